// How spectra over days are drawn: cells from pale to dark, hatching where nothing was measured, ticks for loads and speeds.
import { css } from 'lit';

export const historyLook = css`
  .paper {
    position: relative;
    touch-action: pan-y;
  }
  .paper > svg {
    position: relative;
    display: block;
    width: 100%;
    height: auto;
    cursor: crosshair;
    user-select: none;
  }
  canvas {
    position: absolute;
  }
  text {
    paint-order: stroke;
    stroke: var(--ground);
    stroke-width: 3px;
    stroke-linejoin: round;
    font: 12px var(--font);
    fill: var(--slate);
    font-variant-numeric: tabular-nums;
  }
  .axis {
    fill: none;
    stroke: var(--slate);
    stroke-width: 1.2;
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
  }
  .zoom button {
    font-size: var(--small);
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
`;
