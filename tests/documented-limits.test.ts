// The numbers of docs/operations.md are those of the code, each under the name that the code gives it.
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { ACCESS_LIMITS } from '../services/access/index.ts';
import { ADVISING_LIMITS } from '../services/advising/index.ts';
import { ANALYSIS_LIMITS, THREAD_NICENESS } from '../services/analysis/index.ts';
import { ALERT_LIMITS } from '../services/alerts/index.ts';
import { ADVICE_WITHIN_MS } from '../services/answering.ts';
import { BROKER_LIMITS } from '../services/broker/index.ts';
import { GATEWAY_LIMITS } from '../services/gateway/index.ts';
import { RELAY_LIMITS } from '../services/relay/index.ts';
import { SettingsSchema } from '../services/settings.ts';

const DOCUMENT = readFileSync(new URL('../docs/operations.md', import.meta.url), 'utf8');

const SECTIONS: Record<string, Readonly<Record<string, number>>> = {
  'Devices at the embedded broker': { ...BROKER_LIMITS },
  'An external broker': { ...RELAY_LIMITS },
  People: { ...GATEWAY_LIMITS, ...ACCESS_LIMITS },
  'Windows that devices send by HTTP': { ...GATEWAY_LIMITS },
  Advice: { ...ADVISING_LIMITS, adviceWithinMs: ADVICE_WITHIN_MS },
  'Raw windows that wait': { ...ANALYSIS_LIMITS, niceness: THREAD_NICENESS },
  Alerts: { ...ALERT_LIMITS },
};

const TIMES: readonly (readonly [unit: string, ms: number])[] = [
  ['d', 86_400_000],
  ['h', 3_600_000],
  ['min', 60_000],
  ['s', 1000],
];

/** The ways to write a limit that a person reads at a glance. */
function writtenAs(name: string, value: number): readonly string[] {
  if (name.endsWith('Ms')) return TIMES.map(([unit, ms]) => `${value / ms} ${unit}`);
  if (/bytes/i.test(name)) return [`${value / 1024} KiB`, `${value / 1024 ** 2} MiB`];
  return [value.toLocaleString('en')];
}

function rowsOf(section: string): readonly (readonly [name: string, value: string])[] {
  const [, text = ''] = DOCUMENT.split(`### ${section}\n`);
  const table = text.split(/^#/m)[0] ?? '';
  return [...table.matchAll(/^\| `(\w+)` \| ([^|]+) \|/gm)].map(([, name = '', value = '']) => [name, value.trim()]);
}

test.each(Object.keys(SECTIONS))('%s', (section) => {
  const limits = SECTIONS[section] ?? {};
  const rows = rowsOf(section);
  expect(rows.length).toBeGreaterThan(4);
  for (const [name, value] of rows) {
    const limit = limits[name];
    expect(limit, `${name} is a limit of the code`).toBeTypeOf('number');
    expect(writtenAs(name, limit ?? 0), name).toContain(value);
  }
});

test('every setting is explained', () => {
  const [, text = ''] = DOCUMENT.split('| setting | default | |');
  const named = [...(text.split(/^#/m)[0] ?? '').matchAll(/^\| ([^|]+) \|/gm)].flatMap(([, names = '']) =>
    names.match(/\w+/g),
  );
  expect(new Set(named)).toEqual(new Set(Object.keys(SettingsSchema.shape)));
});
