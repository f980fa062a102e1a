// The thresholds that docs/rules.md shows are those of the rules, and every reason of a hold has its section there.
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { HOLD_REASONS } from '../../../shared/holds.ts';
import * as thresholds from '../../../services/rules/limits.ts';
import * as aheadThresholds from '../../../services/rules/ahead-limits.ts';
import * as windowThresholds from '../../../services/rules/window-limits.ts';
import * as relatingThresholds from '../../../services/rules/relating/limits.ts';

const DOCUMENT = readFileSync(new URL('../../../docs/rules.md', import.meta.url), 'utf8');
const NUMBERS = new Map<string, unknown>(
  Object.entries({ ...thresholds, ...windowThresholds, ...aheadThresholds, ...relatingThresholds }),
);
const UNITS = { s: 1000, min: 60_000, h: 3_600_000 } as const;

/** "10 min" is 600,000 (ms), "0.9" is 0.9. */
function valueOf(text: string): number {
  const [number = '', unit] = text.split(' ');
  return Number(number) * (unit === 's' || unit === 'min' || unit === 'h' ? UNITS[unit] : 1);
}

test('every threshold is the one in force', () => {
  const rows = [...DOCUMENT.matchAll(/^\| (`[A-Z_]+`(?:, `[A-Z_]+`)*) \| ([^|]+) \|/gm)];
  expect(rows.length).toBeGreaterThan(10);
  for (const [, names = '', values = ''] of rows) {
    const told = values.trim().split(', ');
    const all = names.replaceAll('`', '').split(', ');
    expect(told, names).toHaveLength(all.length);
    all.forEach((name, nth) => {
      expect(valueOf(told[nth] ?? ''), name).toBe(NUMBERS.get(name));
    });
  }
});

test('every reason of a hold is explained under its name', () => {
  const headings = DOCUMENT.match(/^### .*$/gm)?.join(' ') ?? '';
  for (const reason of HOLD_REASONS) expect(headings).toContain(reason);
});
