// How the response fan is drawn: paper lines faint, marks in ink, the line fitted to them slate.
import { css, type CSSResultGroup } from 'lit';
import { figureList } from '../figure-list.ts';
import { pictureText, wholePicture } from '../drawing/picture-look.ts';

export const fanLook: CSSResultGroup = [
  figureList,
  pictureText,
  wholePicture,
  css`
    svg {
      max-width: 46rem;
    }
    .title {
      font-size: 12.5px;
    }
    .now text,
    text.now {
      fill: var(--ink);
      font-weight: 650;
    }
    .paper {
      stroke: var(--paper-line);
    }
    .fitted {
      stroke: var(--slate);
      stroke-width: 2;
    }
    .limit {
      stroke: var(--ink);
      stroke-width: 1.4;
      stroke-dasharray: 10 4;
    }
    .load {
      stroke: var(--ink);
      stroke-width: 1.3;
      fill: none;
    }
    .load.recent {
      fill: var(--ink);
    }
    .load.old {
      stroke: var(--slate);
      opacity: 0.75;
    }
    .load.now {
      fill: var(--ground);
      stroke-width: 3;
    }
    .speed {
      display: flex;
      align-items: center;
      gap: 0.75rem;
      margin-bottom: 0.5rem;
    }
    .speed label {
      font-weight: 400;
    }
    .speed select {
      width: auto;
    }
    dl {
      display: flex;
      flex-wrap: wrap;
      gap: 0.25rem 2rem;
      margin: 0.5rem 0;
    }
  `,
];
