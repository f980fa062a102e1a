// How waveforms and spectra are drawn: the line in ink, named places in slate with a sign, what speaks in ochre, doubt hatched.
import { css, type CSSResultGroup } from 'lit';
import { pictureText, readPicture } from '../drawing/picture-look.ts';

export const plotLook: CSSResultGroup = [
  pictureText,
  readPicture,
  css`
    .paper-line {
      stroke: var(--paper-line);
    }
    .row {
      fill: none;
      stroke: var(--ink);
      stroke-width: 1.2;
      stroke-linejoin: round;
    }
    .sign {
      fill: var(--ground);
      stroke: var(--slate);
      stroke-width: 1.4;
    }
    .sign.filled {
      fill: var(--slate);
    }
    .named line {
      stroke: var(--slate);
      stroke-width: 1;
      stroke-dasharray: 2 3;
    }
    .named.order line,
    .named.teeth line {
      stroke-dasharray: none;
      opacity: 0.55;
    }
    .named.speaks line {
      stroke: var(--ochre);
      stroke-width: 1.8;
      stroke-dasharray: 6 3;
    }
    .named.speaks .sign {
      stroke: var(--ochre);
      stroke-width: 2.2;
    }
    .named.speaks .sign.filled {
      fill: var(--ochre);
    }
    .named.speaks text {
      fill: var(--ink);
      font-weight: 650;
    }
    .hatch path {
      stroke: var(--slate);
      stroke-width: 1;
      opacity: 0.55;
    }
    .level {
      stroke: var(--slate);
      stroke-width: 1.3;
      stroke-dasharray: 10 4;
    }
    .cursor {
      stroke: var(--ink);
      stroke-width: 1;
    }
    .at-cursor {
      fill: var(--ground);
      stroke: var(--ink);
      stroke-width: 2;
    }
    .key {
      display: flex;
      flex-wrap: wrap;
      gap: 0.1rem 1.1rem;
      color: var(--slate);
      font-size: var(--small);
      margin: 0.25rem 0;
      padding: 0;
      list-style: none;
    }
    .key li {
      display: inline-flex;
      align-items: center;
      gap: 0.35rem;
    }
    .key svg {
      width: 16px;
      height: 16px;
      flex: none;
    }
  `,
];
