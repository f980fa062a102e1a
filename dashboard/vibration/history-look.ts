// How spectra over days are drawn: cells from pale to dark, hatching where nothing was measured, ticks for loads and speeds.
import { css, type CSSResultGroup } from 'lit';
import { pictureText, readPicture } from '../drawing/picture-look.ts';

export const historyLook: CSSResultGroup = [
  pictureText,
  readPicture,
  css`
    /* Over the cells. */
    .paper > svg {
      position: relative;
    }
    canvas {
      position: absolute;
    }
    .tick {
      stroke: var(--slate);
      stroke-width: 1;
    }
    .hatch path {
      stroke: var(--slate);
      stroke-width: 1;
      opacity: 0.4;
    }
    .picked {
      fill: none;
      stroke: var(--ink);
      stroke-width: 2;
    }
    .cursor {
      fill: none;
      stroke: var(--ground);
      stroke-width: 4;
    }
    .cursor.inner {
      stroke: var(--ink);
      stroke-width: 1.6;
    }
    .key {
      margin: 0.75rem 0 0.25rem;
    }
    .key svg {
      width: 100%;
      max-width: 30rem;
      height: auto;
      display: block;
      overflow: visible;
    }
    .key rect {
      stroke: var(--slate);
      stroke-width: 0.5;
    }
    .level-0 {
      fill: var(--level-0);
    }
    .level-1 {
      fill: var(--level-1);
    }
    .level-2 {
      fill: var(--level-2);
    }
    .level-3 {
      fill: var(--level-3);
    }
    .level-4 {
      fill: var(--level-4);
    }
    @media print {
      canvas {
        print-color-adjust: exact;
      }
      rect {
        print-color-adjust: exact;
      }
    }
  `,
];
