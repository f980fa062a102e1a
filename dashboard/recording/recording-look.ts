// How the page of a recording is laid out: the file and what is told of it on one side, what it says below, all on A4.
import { css } from 'lit';

export const recordingLook = css`
  .drop {
    display: block;
    border: 2px dashed var(--slate);
    border-radius: 2px;
    padding: 1rem;
    margin: 0 0 1rem;
  }
  .drop.over {
    border-color: var(--ink);
    border-style: solid;
    background: var(--sheet);
  }
  .drop input {
    border: 0;
    background: transparent;
    padding-left: 0;
    padding-right: 0;
    max-width: 34rem;
  }
  ::file-selector-button {
    font: inherit;
    color: var(--ink);
    background: var(--sheet);
    border: 1.5px solid var(--slate);
    border-radius: 2px;
    min-height: calc(var(--target) - 0.7rem);
    padding: 0 0.9rem;
    margin-right: 0.75rem;
    cursor: pointer;
  }
  .drop p {
    margin: 0.25rem 0 0;
  }
  .fields {
    display: grid;
    grid-template-columns: repeat(auto-fill, minmax(min(12.5rem, 100%), 1fr));
    gap: 0.75rem 1.5rem;
    align-items: end;
    margin: 0 0 0.75rem;
    max-width: 76rem;
  }
  .wide {
    grid-column: 1 / -1;
    max-width: 44rem;
  }
  .two {
    display: flex;
    gap: 0.5rem;
  }
  .two select {
    width: auto;
  }
  .hint {
    font-size: var(--small);
    color: var(--slate);
    margin: 0;
    max-width: none;
  }
  .wrong {
    border-left: 3px solid var(--ink);
    padding: 0.25rem 0 0.25rem 0.75rem;
    margin: 0.5rem 0 1rem;
    overflow-wrap: anywhere;
  }
  .wrong ul {
    margin: 0;
    padding-left: 1.25rem;
  }
  .said {
    font-size: var(--large);
    max-width: 60ch;
  }
  .health {
    list-style: none;
    margin: 0 0 1rem;
    padding: 0;
  }
  .health li {
    display: flex;
    gap: 0.6rem;
    align-items: flex-start;
    max-width: 80ch;
    padding: 0.15rem 0;
  }
  .tables {
    display: grid;
    grid-template-columns: repeat(auto-fit, minmax(min(30rem, 100%), 1fr));
    gap: 1.25rem 2rem;
    align-items: start;
    margin-bottom: 1.25rem;
  }
  section {
    margin-bottom: 1.25rem;
  }
  section ul {
    margin: 0;
    padding-left: 1.25rem;
    max-width: 80ch;
  }
  section ul.health {
    padding: 0;
  }
  dl {
    display: grid;
    grid-template-columns: max-content minmax(0, 1fr);
    gap: 0.2rem 1rem;
    margin: 0;
  }
  dt {
    color: var(--slate);
  }
  dd {
    margin: 0;
    overflow-wrap: anywhere;
  }
  .cautions {
    font-size: var(--small);
  }
  .printed-name {
    display: none;
  }
  @media print {
    .printed-name {
      display: block;
      overflow-wrap: anywhere;
    }
    .tables {
      gap: 3mm 8mm;
      grid-template-columns: minmax(0, 1fr) minmax(0, 1fr);
    }
    .said {
      font-size: 12pt;
    }
  }
`;
