// The tag's measures in millimetres, on screen and on paper alike. Black on white, and no likeness to a safety sign.
import { css } from 'lit';

let sheet: CSSStyleSheet | undefined;

/** The paper of the tag, for the document. */
export function tagSheet(): CSSStyleSheet {
  if (sheet === undefined) {
    sheet = new CSSStyleSheet();
    sheet.replaceSync('@page { size: 105mm 148mm; margin: 0; } @media print { html, body { background: #fff; } }');
  }
  return sheet;
}

export const tagLook = css`
  .acts {
    display: flex;
    flex-wrap: wrap;
    gap: 0.75rem;
    margin: 0.75rem 0 1rem;
  }
  .acts > * {
    min-height: var(--glove);
    min-width: max(10rem, var(--glove));
  }
  .shown {
    overflow-x: auto;
    padding: 1px;
  }
  .tag {
    width: 105mm;
    height: 147mm;
    padding: 7mm 8mm;
    background: #fff;
    color: #000;
    outline: 1px solid var(--slate);
    display: flex;
    flex-direction: column;
    font-size: 12pt;
    line-height: 1.25;
    overflow: hidden;
  }
  .tag p {
    margin: 0;
    overflow-wrap: anywhere;
  }
  .word svg {
    display: block;
    width: 89mm;
    height: 23mm;
    fill: none;
    stroke: #000;
    margin-bottom: 4mm;
  }
  .subject {
    font-size: 11mm;
    font-weight: 700;
    line-height: 1.1;
    border-top: 1mm solid #000;
    padding-top: 2.5mm;
  }
  .reason {
    font-size: 5.2mm;
    padding-top: 1.5mm;
  }
  .ends {
    padding-top: 3mm;
    font-size: 4.2mm;
  }
  .foot {
    margin-top: auto;
    display: flex;
    justify-content: space-between;
    align-items: flex-end;
    gap: 4mm;
    font-size: 3.8mm;
  }
  .invented {
    border: 0.3mm dashed #000;
    padding: 0 1mm;
    white-space: nowrap;
  }
  .code {
    width: 30mm;
    height: 30mm;
    flex: none;
    fill: #000;
  }
  .tag .advisory {
    border-top: 0.4mm solid #000;
    margin-top: 2.5mm;
    padding-top: 1.5mm;
    font-size: 3.8mm;
  }
  .ended {
    opacity: 0.45;
  }
  @media print {
    :host {
      position: absolute;
      left: 0;
      top: 0;
    }
    .shown {
      overflow: visible;
      padding: 0;
    }
    .tag {
      outline: 0;
    }
  }
`;
