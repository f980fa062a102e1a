// The balance record on A4: black on white on screen and on paper alike, no part cut in two.
import { css } from 'lit';

export const recordLook = css`
  .acts {
    display: flex;
    flex-wrap: wrap;
    gap: 0.75rem;
    margin: 0.75rem 0 1rem;
  }
  .shown {
    overflow-x: auto;
    padding: 1px;
  }
  .paper {
    --ground: #fff;
    --sheet: #fff;
    --ink: #000;
    --slate: #444;
    --rule: #bbb;
    --small: 8pt;
    --band: #ddd;
    --paper-line: #ddd;
    color-scheme: light;
    width: 190mm;
    padding: 4mm;
    background: #fff;
    color: #000;
    outline: 1px solid var(--slate);
    font-size: 9pt;
    line-height: 1.3;
  }
  .paper p {
    max-width: none;
    margin: 0 0 1mm;
  }
  .top {
    display: flex;
    justify-content: space-between;
    gap: 6mm;
    border-bottom: 0.6mm solid #000;
    padding-bottom: 2mm;
  }
  .paper h2 {
    font-size: 18pt;
    margin: 0;
    line-height: 1.15;
  }
  .paper h3 {
    font-size: 10pt;
    margin: 0 0 1mm;
  }
  .code {
    width: 26mm;
    height: 26mm;
    flex: none;
    fill: #000;
  }
  .invented {
    border: 0.3mm dashed #000;
    padding: 0 1mm;
    white-space: nowrap;
  }
  .verdict {
    font-size: 12pt;
    padding: 2mm 0;
    border-bottom: 0.3mm solid #000;
  }
  .verdict p {
    margin: 0;
  }
  .verdict .small {
    font-size: 9pt;
  }
  .verdict .stale {
    border: 0.6mm solid #000;
    padding: 1mm 2mm;
    margin: 1.5mm 0;
  }
  .paper section,
  .pair > div {
    border: 0;
    padding: 2.5mm 0 0;
    break-inside: avoid;
  }
  .pair {
    display: grid;
    grid-template-columns: minmax(0, 1fr) minmax(0, 1fr);
    gap: 0 8mm;
    align-items: start;
  }
  .planes {
    display: grid;
    grid-template-columns: repeat(2, minmax(0, 1fr));
    gap: 0 8mm;
  }
  figure {
    margin: 0;
    break-inside: avoid;
  }
  .planes residual-rose {
    max-width: 62mm;
    margin: 0 auto;
  }
  figcaption {
    text-align: center;
    font-weight: 600;
  }
  .paper table {
    font-size: 8.5pt;
  }
  .paper th,
  .paper td {
    padding: 0.5mm 2.5mm 0.5mm 0;
    font-size: 8.5pt;
  }
  .paper thead th {
    color: #000;
  }
  tr {
    break-inside: avoid;
  }
  .paper ul {
    margin: 0;
    padding-left: 4mm;
    font-size: 8pt;
  }
  .paper .foot {
    border-top: 0.3mm solid #000;
    margin-top: 3mm;
    padding-top: 1.5mm;
    font-size: 8pt;
    break-inside: avoid;
    overflow-wrap: anywhere;
  }
  @media print {
    .shown {
      overflow: visible;
      padding: 0;
    }
    .paper {
      width: auto;
      padding: 0;
      outline: 0;
    }
  }
`;
