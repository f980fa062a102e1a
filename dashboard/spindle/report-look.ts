// What a spindle's report has beside the look of records: boxes to tick, lines to write on.
import { css } from 'lit';

export const reportLook = css`
  .paper section.long {
    break-inside: auto;
  }
  .hold-on-paper {
    border-left: 1mm solid #000;
    padding-left: 2mm;
    margin-bottom: 2mm;
  }
  .hold-on-paper table {
    margin-bottom: 1mm;
  }
  .paper ol.checks {
    list-style: none;
    margin: 0 0 1mm;
    padding: 0;
    font-size: 8.5pt;
  }
  .checks li {
    display: flex;
    gap: 2mm;
    align-items: baseline;
  }
  .checks .box {
    flex: none;
    width: 3mm;
    height: 3mm;
    border: 0.3mm solid #000;
    align-self: center;
  }
  .line {
    display: block;
    height: 8mm;
    border-bottom: 0.2mm solid #000;
  }
  .signed {
    display: grid;
    grid-template-columns: 3fr 2fr 3fr;
    gap: 6mm;
    font-size: 8pt;
  }
  .signed .line {
    height: 11mm;
  }
`;
