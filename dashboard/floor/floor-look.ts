// How the floor is laid out: ribbons left, what needs somebody right; on a narrow screen that comes first.
import { css } from 'lit';

export const floorLook = css`
  :host {
    --left: 12.5rem;
    --right: 9.5rem;
    --between: 0.75rem;
  }
  .head {
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    gap: 0 1.25rem;
    margin-bottom: 0.5rem;
  }
  .head .question {
    margin: 0;
  }
  .head nav {
    margin-left: auto;
  }
  .sides {
    display: grid;
    grid-template-columns: minmax(0, 1fr) minmax(17rem, 23rem);
    gap: 2rem;
    align-items: start;
  }
  section.cell {
    border-top: 1px solid var(--slate);
    padding-top: 0.25rem;
    margin-top: 0.5rem;
  }
  section.cell h2 {
    margin: 0;
    font-size: var(--small);
    color: var(--slate);
  }
  .rows {
    list-style: none;
    margin: 0;
    padding: 0;
  }
  .rows li {
    content-visibility: auto;
    contain-intrinsic-size: auto 56px;
  }
  .row {
    display: grid;
    grid-template-columns: var(--left) minmax(0, 1fr) var(--right);
    column-gap: var(--between);
    align-items: center;
    color: inherit;
    text-decoration: none;
    min-height: var(--target);
    padding: 0.15rem 0;
    border-bottom: 1px solid var(--rule);
  }
  .row:hover {
    background: var(--sheet);
  }
  .row:focus-visible {
    outline-offset: -3px;
  }
  .who {
    display: grid;
    grid-template-columns: auto minmax(0, 1fr);
    column-gap: 0.5rem;
    align-items: center;
    line-height: 1.25;
  }
  .who .id {
    font-weight: 650;
    font-size: 1.0625rem;
  }
  .who .machine,
  .told .small {
    display: block;
  }
  .who .words {
    min-width: 0;
  }
  /* Long names go on in a second line: nothing of them is cut off. */
  .who .small {
    overflow-wrap: anywhere;
  }
  .who .in-word {
    display: inline-block;
    font-size: 0.8125rem;
  }
  .told .reason {
    font-size: var(--small);
  }
  .told .before {
    color: var(--slate);
    font-weight: 400;
  }
  .told {
    line-height: 1.25;
    overflow-wrap: anywhere;
  }
  .told .ratio {
    font-size: 1.0625rem;
    font-weight: 600;
  }
  .small {
    font-size: 0.8125rem;
    color: var(--slate);
  }
  .in-word.watch,
  .in-word.hold,
  .in-word.no-data {
    font-weight: 650;
  }
  .counts span {
    white-space: nowrap;
  }
  @media (max-width: 64rem) {
    .sides {
      grid-template-columns: minmax(0, 1fr);
      gap: 1.25rem;
    }
    needs-list {
      order: -1;
    }
  }
  @media (max-width: 52rem) {
    :host {
      --left: 7.25rem;
      --right: 6.5rem;
      --between: 0.5rem;
    }
    .machine {
      display: none !important;
    }
    .counts span {
      white-space: normal;
    }
  }
  @media (max-width: 36rem) {
    :host {
      --left: 5.5rem;
      --right: 5rem;
    }
  }
  @media print {
    .sides {
      display: block;
    }
  }
`;
