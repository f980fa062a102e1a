// The sentence of a hold that a person reads first.
import { expect, test } from 'vitest';
import type { Clause, Hold } from '../../../shared/holds.ts';
import { holdSentence } from '../../../services/holds/views/hold-sentence.ts';

const held = (reason: Hold['reason'], id: string, clause: Partial<Clause>): Hold =>
  ({
    holdId: 'H-1',
    subject: { kind: id.startsWith('A') ? 'assembly' : 'spindle', id },
    reason,
    state: 'raised',
    steps: [],
    evidence: { assemblyId: 'A-1', spindleId: 'S-1', clauses: [{ what: '', source: '', ...clause }] },
  }) as unknown as Hold;

test.each([
  ['residual unbalance as measured', 'its residual unbalance is 2.0 times'],
  ['residual unbalance as measured, first plane', 'its residual unbalance in its first plane is 2.0 times'],
  ['residual unbalance as measured, second plane', 'its residual unbalance in its second plane is 2.0 times'],
])('%s: the plane that decides is named', (what, words) => {
  expect(holdSentence(held('residual-exceeds', 'A-1', { what, measured: 4, limit: 2 }))).toContain(words);
});

test('what is unexplained is more than explained, or only otherwise: then no figures are compared', () => {
  const clause = { limit: 0.6, unit: 'mm/s' };
  expect(holdSentence(held('vibration-unexplained', 'S-1', { ...clause, measured: 1.2 }))).toBe(
    'S-1 is on hold: A-1 vibrates in it more than what is known explains: 1.2 against 0.6 mm/s. Find the cause before it goes on.',
  );
  expect(holdSentence(held('vibration-unexplained', 'S-1', { ...clause, measured: 0.3 }))).toBe(
    'S-1 is on hold: what A-1 shows in it is explained by nothing that is known. Find the cause before it goes on.',
  );
});
