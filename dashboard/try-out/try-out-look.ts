// How the try-out page looks: the rows of a draft in fields, the three marks, and what an opened hold says.
import { css } from 'lit';

export const stateLook = css`
  .state {
    display: inline-flex;
    align-items: center;
    gap: 0.4rem;
    white-space: nowrap;
  }
  .both {
    fill: var(--ink);
  }
  .only-now {
    fill: none;
    stroke: var(--cobalt);
    stroke-width: 1.5;
  }
  .only-then {
    fill: var(--plum);
  }
`;

export const tryOutLook = css`
  section {
    margin-top: 1.25rem;
  }
  .row {
    display: grid;
    grid-template-columns: repeat(auto-fill, minmax(min(9.5rem, 100%), 1fr));
    gap: 0.5rem 1rem;
    align-items: end;
    border: 0 solid var(--rule);
    border-width: 0 0 1px;
    padding: 0.5rem 0 0.75rem;
    margin: 0;
    min-width: 0;
  }
  .row.wide {
    grid-template-columns: repeat(auto-fill, minmax(min(13.25rem, 100%), 1fr));
  }
  .row label {
    font-size: var(--small);
  }
  .row p {
    margin: 0;
    align-self: center;
  }
  .answers {
    display: flex;
    flex-wrap: wrap;
    gap: 0.75rem;
    margin: 0.75rem 0;
    align-items: center;
  }
  textarea {
    font-family: var(--font-fixed);
    min-height: 14rem;
    resize: vertical;
  }
  textarea.why {
    font-family: inherit;
    min-height: 4.5rem;
    max-width: 44rem;
    display: block;
  }
  .changes {
    margin: 0;
    padding-left: 1.25rem;
    overflow-wrap: anywhere;
  }
  progress {
    width: min(24rem, 100%);
    height: 1rem;
    accent-color: var(--ink);
  }
  .name {
    max-width: 24rem;
  }
  td details[open] {
    max-width: 36rem;
  }
  /* A column in which nothing was opened has nothing to say on paper. */
  @media print {
    table:not(:has(details[open])) .clauses {
      display: none;
    }
  }
`;
