// How the top line is laid out: one line on a wide screen, two on a tablet, nothing hidden behind a button.
import { css } from 'lit';

export const topLineLook = css`
  header {
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    gap: 0 1.25rem;
    padding: 0 1.25rem;
    border-bottom: 2px solid var(--ink);
    background: var(--ground);
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
    flex: 1 1 11rem;
    min-width: 9rem;
    max-width: 20rem;
    padding: 2px 0;
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
    form,
    .person {
      display: none !important;
    }
    header {
      padding: 0;
    }
  }
`;
