// What the month has beside the look of records: the row in which a month is chosen.
import { css } from 'lit';

export const monthLook = css`
  .paper section.long {
    break-inside: auto;
  }
  .pair + table {
    margin-top: 2.5mm;
  }
  .paper h3.next {
    margin-top: 2mm;
  }
  .acts label {
    display: inline-flex;
    align-items: center;
    gap: 0.5rem;
  }
  .paper p.partly {
    border: 0.6mm solid #000;
    padding: 1mm 2mm;
    margin: 2mm 0;
  }
  /* Rows are as low as paper lets them be; what is pressed on screen is no lower than 24 px (WCAG 2.2, 2.5.8). */
  @media screen {
    .paper td > a,
    .paper tbody th > a {
      display: inline-flex;
      align-items: center;
      min-height: 24px;
      min-width: 24px;
    }
    .paper tr:has(a) > * {
      vertical-align: baseline;
    }
  }
`;
