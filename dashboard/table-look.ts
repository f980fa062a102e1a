// How tables look, on a screen that may be narrower than they are and on paper.
import { css } from 'lit';

export const tables = css`
  /* Positioned, so that words only for readers scroll along and do not widen the page. */
  .scrolls {
    position: relative;
    overflow-x: auto;
    /* A shade at an edge beyond which there is more; what scrolls along covers it where there is not. */
    background:
      linear-gradient(to right, var(--ground) 40%, transparent) left / 3.5rem 100% no-repeat local,
      linear-gradient(to left, var(--ground) 40%, transparent) right / 3.5rem 100% no-repeat local,
      linear-gradient(to right, var(--more), transparent) left / 1.75rem 100% no-repeat,
      linear-gradient(to left, var(--more), transparent) right / 1.75rem 100% no-repeat;
  }
  table {
    border-collapse: collapse;
    width: 100%;
    font-size: 0.9375rem;
  }
  caption {
    text-align: left;
    color: var(--slate);
    font-size: var(--small);
    padding-bottom: 0.3rem;
  }
  th {
    text-align: left;
    font-weight: 600;
    font-size: var(--small);
    color: var(--slate);
    border-bottom: 1px solid var(--slate);
    vertical-align: bottom;
  }
  th,
  td {
    padding: 0.35rem 0.75rem 0.35rem 0;
  }
  th:last-child,
  td:last-child {
    padding-right: 0;
  }
  tbody th {
    color: var(--ink);
    font-size: inherit;
    border-bottom: 0;
  }
  tbody tr {
    border-bottom: 1px solid var(--rule);
  }
  td,
  tbody th {
    vertical-align: top;
  }
  .number {
    text-align: right;
    white-space: nowrap;
  }
  /* Paper does not scroll: every column is on it, narrower. */
  @media print {
    .scrolls {
      overflow: visible;
      background: none;
    }
    table {
      font-size: 8pt;
    }
    th,
    td {
      padding-right: 0.4rem;
    }
    .number,
    td.nowrap {
      white-space: normal;
    }
  }
  /* A link that is a whole cell is pressed by a finger; one inside a sentence is not made taller. */
  @media screen and (pointer: coarse) {
    td > a,
    tbody th > a {
      display: inline-flex;
      align-items: center;
      min-height: var(--target);
      min-width: var(--target);
    }
  }
  summary {
    cursor: pointer;
    min-height: var(--target);
    display: flex;
    align-items: center;
    gap: 0.5rem;
    font-size: var(--small);
    color: var(--slate);
    width: fit-content;
    text-decoration: underline;
    text-underline-offset: 0.18em;
  }
`;
