// How the acts on a hold are laid out: large enough for gloves, and on touch one at a time.
import { css } from 'lit';

export const actsLook = css`
  .acts {
    display: flex;
    flex-wrap: wrap;
    gap: 0.75rem;
  }
  .acts button {
    min-height: var(--glove);
    min-width: max(9rem, var(--glove));
    padding: 0.5rem 1rem;
  }
  @media screen and (pointer: coarse) {
    button {
      font-size: 1.125rem;
    }
    /* One decision on the screen: the others come back in their places with "Leave it". */
    .acts:has([aria-expanded='true']) button:not([aria-expanded='true']) {
      visibility: hidden;
    }
  }
  .acts [aria-expanded='true'] {
    border-color: var(--ink);
    border-width: 3px;
  }
  .confirm {
    display: grid;
    grid-template-columns: minmax(0, 1fr) auto;
    gap: 0.75rem 1.5rem;
    align-items: end;
    border-left: 3px solid var(--ink);
    padding: 0.5rem 0 0.5rem 1rem;
    margin-top: 1rem;
  }
  .confirm .asks {
    grid-column: 1 / -1;
    margin: 0;
    font-weight: 600;
  }
  .confirm .now {
    grid-column: 1 / -1;
    margin: 0;
    max-width: none;
  }
  .confirm .answers {
    display: flex;
    flex-direction: column;
    gap: 0.5rem;
    grid-column: 2;
  }
  .answers button {
    min-height: var(--glove);
    min-width: max(10rem, var(--glove));
  }
  .confirm .found {
    grid-column: 1;
  }
  .found select {
    min-height: var(--glove);
  }
  label {
    display: block;
    margin-bottom: 0.35rem;
  }
  textarea {
    min-height: max(5.5rem, var(--glove));
    resize: vertical;
    display: block;
  }
  .wrong {
    margin: 0.75rem 0 0;
    font-weight: 600;
  }
  .others {
    margin-top: 0.75rem;
  }
  @media (max-width: 40rem), (pointer: coarse) {
    .confirm {
      grid-template-columns: minmax(0, 1fr);
      gap: 0.5rem;
      margin-top: 0.5rem;
    }
    .confirm .answers {
      grid-column: 1;
      flex-flow: row wrap;
    }
  }
  /* Side by side, so that what confirms is on the screen of a tablet that lies flat. */
  @media screen and (pointer: coarse) and (min-width: 64rem) {
    .confirm:has(.found) {
      grid-template-columns: minmax(0, 2fr) minmax(0, 1fr);
    }
    .confirm:has(.found) .found {
      grid-column: 2;
    }
    .confirm:has(.found) .answers {
      grid-column: 1 / -1;
    }
  }
`;
