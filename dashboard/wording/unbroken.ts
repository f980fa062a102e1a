// A sentence whose ids and amounts stay whole at the end of a line: "S-03" and "2.2 mm/s" are read as one word each.
import type { TemplateResult } from 'lit';
import { html } from '../language/html.ts';
import { SPEED, unitOf } from './figures.ts';

const WHOLE = new RegExp(
  `(\\d[\\d.,]* (?:${unitOf(SPEED)}|mm/s|in/s|g·mm|oz·in|%|s|min|h|d)(?![\\p{L}\\d])|\\S+-\\S+)`,
  'u',
);

export function unbroken(sentence: string): TemplateResult {
  // Every second piece is one that the pattern caught.
  return html`${sentence.split(WHOLE).map((piece, i) => (i % 2 === 1 ? html`<span class="nowrap">${piece}</span>` : piece))}`;
}
