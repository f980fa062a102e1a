// How the pages of one subject are laid out: head, facts, open holds, pictures side by side, lists below.
import { css, type CSSResultGroup } from 'lit';
import { figureList } from './figure-list.ts';

export const subjectLook: CSSResultGroup = [
  figureList,
  css`
    .head {
      display: flex;
      flex-wrap: wrap;
      align-items: center;
      gap: 0 1.25rem;
    }
    .head .question {
      margin: 0;
    }
    .standing-large {
      font-size: var(--large);
    }
    .facts {
      display: grid;
      grid-template-columns: repeat(auto-fill, minmax(12.5rem, 1fr));
      gap: 0.5rem 1.5rem;
      margin: 0.5rem 0 1rem;
    }
    dd a {
      display: inline-block;
      min-height: 24px;
      min-width: 24px;
    }
    .holds {
      list-style: none;
      margin: 0 0 1rem;
      padding: 0;
    }
    .holds li {
      display: flex;
      gap: 0.6rem;
      align-items: center;
      border-top: 1px solid var(--plum);
      padding: 0.4rem 0;
    }
    .holds li:last-child {
      border-bottom: 1px solid var(--plum);
    }
    .holds p {
      margin: 0;
      max-width: none;
    }
    .columns > div {
      display: grid;
      gap: 1.5rem;
      min-width: 0;
    }
    .columns,
    .lists {
      display: grid;
      grid-template-columns: minmax(0, 1fr) minmax(0, 1fr);
      gap: 1.5rem 2rem;
      margin-bottom: 1.5rem;
      align-items: start;
    }
    @media (max-width: 70rem) {
      .columns {
        grid-template-columns: minmax(0, 1fr);
      }
      .columns > div {
        display: contents;
      }
      /* In one column the pictures come first, whichever side they stood on. */
      .columns .below {
        order: 1;
      }
    }
    @media (max-width: 56rem) {
      .lists {
        grid-template-columns: minmax(0, 1fr);
      }
    }
  `,
];
