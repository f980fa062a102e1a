// How the top line is laid out: one line on a wide screen, two on a tablet, nothing hidden behind a button.
import { css } from 'lit';

export const topLineLook = css`
  header {
    border-bottom: 2px solid var(--ink);
    background: var(--ground);
    padding: 0 1.25rem;
  }
  .line {
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    gap: 0 1.25rem;
  }
  .seen {
    border-top: 1px solid var(--rule);
    justify-content: space-between;
  }
  .in-the-clear {
    border-top: 1px dashed var(--cobalt);
    margin: 0;
    padding: 0.3rem 0;
    max-width: none;
    font-size: var(--small);
    font-weight: 600;
    color: var(--cobalt);
  }
  .name {
    display: flex;
    align-items: center;
    gap: 0.5rem;
    font-weight: 700;
    min-height: var(--target);
  }
  nav.choices {
    flex-wrap: nowrap;
    gap: 0;
  }
  nav a {
    white-space: nowrap;
  }
  .count {
    display: inline-flex;
    align-items: center;
    gap: 0.2rem;
    margin-left: 0.4rem;
    font-weight: 650;
  }
  .count.unknown {
    visibility: hidden;
  }
  .plant {
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    gap: 0 0.75rem;
    min-height: var(--target);
    font-size: 0.9375rem;
  }
  .plant-name {
    font-weight: 650;
  }
  .invented {
    border: 1px dashed var(--slate);
    padding: 0 0.4rem;
    white-space: nowrap;
  }
  form {
    flex: 0 1 20rem;
    min-width: 11rem;
    padding: 3px 0;
  }
  form[role='search'] input {
    box-sizing: border-box;
    width: 100%;
  }
  .person {
    display: flex;
    align-items: center;
    gap: 0 0.75rem;
    margin-left: auto;
    font-size: 0.9375rem;
  }
  .who-name {
    max-width: 12rem;
    overflow: hidden;
    text-overflow: ellipsis;
  }
  @media (max-width: 100rem) {
    nav.choices a {
      padding: 0.25rem 0.5rem;
    }
  }
  /* Name and person in one line, the places in the next. */
  @media (max-width: 60rem) {
    nav.choices {
      order: 3;
      width: 100%;
      flex-wrap: wrap;
    }
  }
  @media (max-width: 56rem) {
    .line {
      gap: 0 0.5rem;
    }
    .person {
      gap: 0 0.25rem;
    }
    nav a {
      padding: 0.25rem 0.45rem !important;
    }
    .who-name {
      max-width: 7rem;
    }
    /* Each its own line from the beginning, so that nothing moves down when the plant is told. */
    .seen .plant,
    .seen .person {
      flex: 1 1 100%;
    }
    .seen .person {
      justify-content: flex-end;
    }
  }
  @media (max-width: 44rem) {
    header {
      padding: 0 0.75rem;
    }
    form {
      flex: 1 1 100%;
    }
    .seen .person {
      flex-wrap: wrap;
      min-width: 0;
    }
  }
  select.quiet {
    width: auto;
    padding: 0.25rem 0.4rem;
    border-color: transparent;
    background: transparent;
  }
  button.quiet {
    border-color: transparent;
    background: transparent;
    padding: 0.25rem 0.4rem;
    text-decoration: underline;
    text-underline-offset: 0.18em;
    white-space: nowrap;
  }
  @media print {
    nav,
    .seen,
    .person {
      display: none !important;
    }
    header {
      padding: 0;
    }
  }
`;
