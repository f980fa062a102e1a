// The style sheet that every element of ours adopts: text, links, tables, things to press, and a focus that can be seen.
import { css } from 'lit';

export const look = css`
  :host {
    display: block;
  }
  *,
  *::before,
  *::after {
    box-sizing: border-box;
  }
  [hidden] {
    display: none !important;
  }
  h1 {
    font-size: clamp(1.25rem, 1rem + 1.6vw, var(--huge));
    line-height: 1.2;
    margin: 0;
    font-weight: 650;
    text-wrap: balance;
    overflow-wrap: anywhere;
  }
  h2 {
    font-size: 1rem;
    font-weight: 650;
    margin: 0 0 0.5rem;
  }
  h3 {
    font-size: 1rem;
    font-weight: 600;
    margin: 0;
  }
  p {
    margin: 0 0 0.5rem;
    max-width: 75ch;
    overflow-wrap: break-word;
  }
  /* What a page answers stands beside its name, or beneath it where the line is full. */
  h1:has(+ .question),
  h1 + .question {
    display: inline-block;
    margin-right: 1.25rem;
  }
  .head > h1:first-child {
    margin-right: 0;
  }
  .question,
  .soft {
    color: var(--slate);
  }
  .small {
    font-size: var(--small);
  }
  .fixed {
    font-family: var(--font-fixed);
  }
  .nowrap {
    white-space: nowrap;
  }
  a {
    color: inherit;
    text-decoration-thickness: 1px;
    text-underline-offset: 0.18em;
  }
  a:hover {
    text-decoration-thickness: 2px;
  }
  :focus-visible {
    outline: 3px solid var(--ink);
    outline-offset: 2px;
  }
  :focus:not(:focus-visible) {
    outline: none;
  }
  section {
    border-top: 2px solid var(--ink);
    padding-top: 0.6rem;
    min-width: 0;
  }
  .only-heard {
    position: absolute;
    width: 1px;
    height: 1px;
    overflow: hidden;
    clip-path: inset(50%);
    white-space: nowrap;
  }
  @media print {
    .not-printed,
    details:not([open]) {
      display: none !important;
    }
    section {
      break-inside: avoid;
    }
    /* What is longer than a sheet begins where it stands and goes on overleaf, row by row. */
    section:has(tbody > tr:nth-child(10), li:nth-child(8)),
    section.long {
      break-inside: auto;
    }
    h2,
    h3,
    caption,
    thead {
      break-after: avoid;
    }
    tr,
    li {
      break-inside: avoid;
    }
  }
`;

export { tables } from './table-look.ts';

export const presses = css`
  button,
  .press {
    font: inherit;
    color: var(--ink);
    background: var(--sheet);
    border: 1.5px solid var(--slate);
    border-radius: 2px;
    min-height: var(--target);
    min-width: var(--target);
    padding: 0.35rem 0.9rem;
    cursor: pointer;
    text-decoration: none;
    display: inline-flex;
    align-items: center;
    justify-content: center;
    gap: 0.5rem;
    text-align: center;
  }
  button:hover:not(:disabled),
  .press:hover {
    border-color: var(--ink);
    background: var(--ground);
  }
  button.first {
    background: var(--ink);
    border-color: var(--ink);
    color: var(--ground);
    font-weight: 600;
  }
  button.first:hover:not(:disabled) {
    background: var(--ink);
    text-decoration: underline;
  }
  button:disabled {
    color: var(--slate);
    border-style: dashed;
    background: transparent;
    cursor: default;
  }
  label {
    font-weight: 600;
    display: block;
  }
  input,
  textarea,
  select {
    font: inherit;
    color: var(--ink);
    background: var(--sheet);
    border: 1.5px solid var(--slate);
    border-radius: 2px;
    min-height: var(--target);
    padding: 0.35rem 0.6rem;
    width: 100%;
    max-width: 100%;
  }
  ::placeholder {
    color: var(--slate);
    opacity: 1;
  }
  .choices {
    display: flex;
    flex-wrap: wrap;
    gap: 0.25rem;
    align-items: center;
  }
  .choices a,
  .choices button {
    min-height: var(--target);
    min-width: var(--target);
    padding: 0.25rem 0.75rem;
    display: inline-flex;
    align-items: center;
    justify-content: center;
    border: 0;
    border-bottom: 3px solid transparent;
    border-radius: 0;
    background: transparent;
    text-decoration: none;
    color: var(--ink);
  }
  .choices a:hover,
  .choices button:hover:not(:disabled) {
    border-bottom-color: var(--rule);
    background: transparent;
  }
  .choices [aria-current],
  .choices [aria-current]:hover,
  .choices [aria-pressed='true'],
  .choices [aria-pressed='true']:hover:not(:disabled) {
    border-bottom-color: var(--ink);
    font-weight: 650;
  }
  /* There every border is seen: only what is chosen keeps its line. */
  @media (forced-colors: active) {
    .choices :not([aria-current], [aria-pressed='true']) {
      border-bottom-color: Canvas;
    }
  }
`;
