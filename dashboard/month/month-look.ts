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
`;
