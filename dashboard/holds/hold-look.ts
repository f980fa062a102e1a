// How a hold is laid out on screen and on A4.
import { css } from 'lit';

export const holdLook = css`
  .hold-head {
    display: grid;
    grid-template-columns: auto minmax(0, 1fr) auto;
    gap: 0.25rem 1rem;
    align-items: start;
    margin-bottom: 1rem;
  }
  .hold-head h1 {
    max-width: 48ch;
  }
  .state {
    display: flex;
    flex-wrap: wrap;
    gap: 0.1rem 1rem;
    margin: 0.35rem 0 0;
    max-width: none;
  }
  .tag-link {
    min-height: var(--glove);
    min-width: var(--glove);
  }
  section {
    margin-bottom: 1.25rem;
  }
  .lists,
  .lists.below {
    margin-bottom: 0;
  }
  .check {
    margin: 0;
    padding-left: 1.5rem;
  }
  .check li {
    padding: 0.15rem 0;
  }
  .cautions {
    margin: 0.75rem 0 0;
    padding: 0.5rem 0 0 1.1rem;
    border-top: 1px solid var(--rule);
    font-size: var(--small);
  }
  .boxes {
    list-style: none;
    margin: 0 0 0.5rem;
    padding: 0;
  }
  .boxes > li {
    display: grid;
    grid-template-columns: auto minmax(0, 1fr);
    gap: 0.75rem;
    align-items: center;
    padding: 0.3rem 0;
  }
  .parts {
    grid-column: 2;
    margin: 0;
    padding-left: 1.25rem;
  }
  .parts li {
    padding: 0.2rem 0;
  }
  plan-work {
    margin-top: 0.75rem;
  }
  .lists.causes:not(:has(section)) {
    display: none;
  }
  /* Narrower than this, half a page would cut off columns of the pairs. */
  @media (max-width: 105rem) {
    .lists.causes {
      grid-template-columns: minmax(0, 1fr);
    }
  }
  .answers-told {
    list-style: none;
    margin: 0 0 1rem;
    padding: 0.5rem 0 0.5rem 1rem;
    border-left: 3px solid var(--ink);
  }
  .answers-told li {
    padding: 0.15rem 0;
    max-width: 90ch;
  }
  .boxes .told,
  .parts .told {
    display: block;
  }
  .boxes .filled {
    fill: var(--ink);
    stroke: none;
  }
  .boxes svg {
    fill: none;
    stroke: var(--ink);
    stroke-width: 2.4;
  }
  .evidence {
    display: flex;
    flex-wrap: wrap;
    gap: 0.4rem 1.25rem;
    align-items: baseline;
    margin: 0.75rem 0 0;
    max-width: none;
  }
  div.evidence {
    gap: 0.4rem 0.5rem;
    margin-top: 0.5rem;
  }
  /* No empty sheet for the space below the last line. */
  @media print {
    .lists.below > :last-child {
      margin-bottom: 0;
    }
  }
  @media (max-width: 40rem) {
    .hold-head {
      grid-template-columns: auto minmax(0, 1fr);
    }
    .tag-link {
      grid-column: 1 / -1;
    }
  }
`;
