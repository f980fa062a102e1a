// How figures are listed: the name above each, what belongs to it below, small.
import { css } from 'lit';

export const figureList = css`
  dt {
    font-size: var(--small);
    color: var(--slate);
  }
  dd {
    margin: 0;
    font-weight: 600;
  }
  dd.small {
    font-weight: 400;
    color: var(--slate);
  }
`;
