// How the two sign-in pages look: one column, large enough for gloves.
import { css } from 'lit';

export const signInLook = css`
  :host {
    max-width: 26rem;
    margin: 8vh auto 0;
  }
  form {
    display: grid;
    gap: 0.9rem;
    margin-top: 1.25rem;
  }
  input,
  button {
    min-height: max(48px, var(--target));
  }
  .wrong {
    font-weight: 600;
    margin: 0;
  }
  .hint {
    margin: 0.2rem 0 0;
  }
`;
