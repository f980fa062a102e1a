// What drawn pictures have in common: words that a line does not go through, a whole width, how one is read and gone into.
import { css } from 'lit';

/** Words and figures of a picture, in the size of its paper, with a halo of the ground; the newest in ink; the axes. */
export const pictureText = css`
  text {
    paint-order: stroke;
    stroke: var(--ground);
    stroke-width: 4px;
    stroke-linejoin: round;
    font: 12px var(--font);
    fill: var(--slate);
    font-variant-numeric: tabular-nums;
  }
  text.newest {
    fill: var(--ink);
    font-weight: 650;
  }
  .axis {
    fill: none;
    stroke: var(--slate);
    stroke-width: 1.2;
  }
`;

/** Where the picture is the only drawing of its element: as wide as there is room, up to a greatest width of its own. */
export const wholePicture = css`
  svg {
    display: block;
    width: 100%;
    height: auto;
  }
`;

/** A picture that is pointed at and gone into: what is read, the part that is being chosen, its buttons. */
export const readPicture = css`
  .paper {
    position: relative;
    touch-action: pan-y;
  }
  .paper > svg {
    display: block;
    width: 100%;
    height: auto;
    cursor: crosshair;
    user-select: none;
  }
  .chosen {
    fill: var(--ink);
    opacity: 0.14;
  }
  .told {
    min-height: 1.5em;
    margin: 0.25rem 0;
    font-size: var(--small);
    max-width: none;
  }
  .zoom {
    display: flex;
    flex-wrap: wrap;
    gap: 0.25rem;
    align-items: center;
  }
  .zoom button {
    font-size: var(--small);
  }
`;
