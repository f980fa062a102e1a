// How a form looks that has opened in place: set off by a line, its presses in a row.
import { css } from 'lit';

export const openedForm = css`
  form {
    border-left: 3px solid var(--ink);
    padding: 0.25rem 0 0.25rem 1rem;
  }
  .answers {
    display: flex;
    flex-wrap: wrap;
    gap: 0.75rem;
  }
`;
