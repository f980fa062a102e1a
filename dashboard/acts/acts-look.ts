// How the record is laid out: days as heads, a line for each act and decision, wide enough for whoever did it and why.
import { css } from 'lit';

export const actsLook = css`
  .head {
    display: flex;
    flex-wrap: wrap;
    align-items: baseline;
    gap: 0 1.25rem;
  }
  .head .question {
    margin: 0;
  }
  section {
    margin-top: 1.25rem;
  }
  form.which {
    display: grid;
    grid-template-columns: repeat(auto-fit, minmax(11rem, 1fr));
    gap: 0.75rem 1rem;
    align-items: end;
    margin-bottom: 0.75rem;
  }
  .answers {
    display: flex;
    flex-wrap: wrap;
    gap: 0.75rem;
    align-items: center;
  }
  .days {
    display: grid;
    grid-template-columns: 5.25rem 11rem minmax(0, 1fr) auto;
    column-gap: 1rem;
  }
  h3.day {
    grid-column: 1 / -1;
    border-bottom: 1px solid var(--slate);
    padding: 0.9rem 0 0.25rem;
    font-size: var(--small);
    color: var(--slate);
  }
  ol.lines {
    list-style: none;
    margin: 0;
    padding: 0;
  }
  ol.lines,
  ol.lines > li {
    display: grid;
    grid-column: 1 / -1;
    grid-template-columns: subgrid;
  }
  ol.lines > li {
    align-items: baseline;
    padding: 0.4rem 0;
    border-bottom: 1px solid var(--rule);
  }
  /* Nobody's act: what was decided stands a step in, and so does not look like one. */
  li.decided > .told {
    padding-left: 1.25rem;
  }
  .who {
    font-weight: 600;
    overflow-wrap: anywhere;
  }
  /* A name is broken only where it is longer than its column. */
  .who a {
    display: inline-block;
    max-width: 100%;
  }
  li.decided > .who {
    font-weight: 400;
    color: var(--slate);
  }
  .told {
    overflow-wrap: anywhere;
  }
  .told p {
    margin: 0.15rem 0 0;
  }
  .about {
    color: var(--slate);
    font-size: var(--small);
    display: flex;
    flex-wrap: wrap;
    gap: 0 0.9rem;
    margin-top: 0.15rem;
  }
  .note {
    border-left: 2px solid var(--slate);
    padding-left: 0.6rem;
    margin: 0.25rem 0 0;
    white-space: pre-wrap;
  }
  raw-message[open] {
    grid-column: 1 / -1;
  }
  @media (max-width: 56rem) {
    .days {
      grid-template-columns: 4.5rem minmax(0, 1fr) auto;
    }
    ol.lines > li > .told {
      grid-column: 2 / -1;
      grid-row: 2;
    }
    li.decided > .told {
      padding-left: 0;
    }
  }
  @media screen and (pointer: coarse) {
    .about a,
    .who a {
      display: inline-flex;
      align-items: center;
      min-height: var(--target);
    }
  }
  @media print {
    h3.day {
      break-after: avoid;
    }
  }
`;
