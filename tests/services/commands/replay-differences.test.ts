// What of a hold is otherwise on record is named; what only has another number is not listed where other limits are tried.
import { expect, test } from 'vitest';
import { differenceWords } from '../../../services/commands/replay-differences.ts';
import { replayWords } from '../../../services/commands/replay-words.ts';
import type { HoldStay, Replayed } from '../../../services/recording/index.ts';
import type { Clause, Hold, HoldStep } from '../../../shared/holds.ts';

const AT = Date.UTC(2026, 10, 24, 6);
const CLAUSE: Clause = {
  what: 'overall velocity',
  measured: 3.1,
  limit: 2.8,
  unit: 'mm/s',
  source: 'old sheet; entered by eva',
};
const RAISING: HoldStep = { state: 'raised', at: AT, by: 'sensor-01', cause: 9 };
const RELEASE: HoldStep = { state: 'released', at: AT + 60_000, by: 'eva', cause: 12 };

const HOLD: Hold = {
  holdId: 'H-9-1',
  subject: { kind: 'spindle', id: 'S-01' },
  reason: 'overall-over-limit',
  state: 'released',
  raisedAt: AT,
  evidence: { positions: [9], clauses: [CLAUSE] },
  conditions: [],
  steps: [RAISING, RELEASE],
  dependents: [],
  rules: 'rules-2',
};

const stay = (more: Partial<Hold> = {}, heldMs = 60_000): HoldStay => ({ hold: { ...HOLD, ...more }, heldMs });
const clause = (more: Partial<Clause>): Partial<Hold> => ({
  evidence: { positions: [9], clauses: [{ ...CLAUSE, ...more }] },
});

test.each<readonly [string, HoldStay, readonly string[]]>([
  ['nothing', stay(), []],
  ['only its number', stay({ holdId: 'H-9-2' }), []],
  [
    'raised earlier',
    stay({ raisedAt: AT - 1000, steps: [{ ...RAISING, at: AT - 1000, cause: 8 }, RELEASE] }, 61_000),
    ['raised 2026-11-24T06:00:00.000Z', 'held 60 s'],
  ],
  ['held a little longer', stay({}, 60_120), ['held 120 ms shorter']],
  ['held longer, both days', stay({}, 60_000 + 86_400_000 * 3), ['held 60 s']],
  [
    'another limit',
    stay(clause({ limit: 2.2, source: 'new sheet' })),
    ['limit 2.8, now 2.2 mm/s', 'limit from “old sheet; entered by eva”'],
  ],
  ['a limit that rounds to the same', stay(clause({ limit: 2.8001 })), ['limit 2.8, now 2.8001 mm/s']],
  ['measured otherwise', stay(clause({ measured: 4 })), ['measured 3.1, now 4 mm/s']],
  ['other messages', stay({ evidence: { positions: [8, 9], clauses: [CLAUSE] } }), ['with other evidence']],
  ['for another thing', stay(clause({ what: 'the 1× part' })), ['with other evidence']],
  ['open at the end', stay({ state: 'raised', steps: [RAISING] }), ['released at the end']],
  [
    'released later',
    stay({ steps: [RAISING, { ...RELEASE, at: AT + 90_000 }] }, 90_000),
    ['held 60 s', 'released 2026-11-24T06:01:00.000Z'],
  ],
  ['by others', stay({ steps: [RAISING, { ...RELEASE, by: 'ada' }] }), ['with other steps']],
  [
    'by another message at the same time',
    stay({ steps: [{ ...RAISING, cause: 8 }, RELEASE] }),
    ['raised by another message'],
  ],
  ['said again', stay({ dependents: [11] }), ['said again by other messages']],
  ['another release', stay({ rules: 'rules-3' }), ['raised by another release of the rules']],
])('%s', (_, now, words) => {
  expect(differenceWords(stay(), now)).toEqual(words);
});

const replayed = (now: HoldStay): Replayed => ({
  from: 1,
  to: 20,
  span: { from: AT, to: AT + 100_000 },
  snapshotPosition: undefined,
  entries: 20,
  readings: 10,
  outcomes: { count: 4, differing: 1, first: 9 },
  holds: { both: [{ onRecord: stay(), now, same: false }], onlyOnRecord: [], onlyNow: [] },
  beyond: 0,
});

test('a hold in both is listed with what is otherwise, and not at all where other limits changed only its number', () => {
  const listed = (now: HoldStay, isOther: boolean): string => replayWords(replayed(now), isOther).join('\n');
  expect(listed(stay({ dependents: [11] }), true)).toMatch(
    /both, otherwise:\n.*held 60 s; on record H-9-1, said again by other messages$/,
  );
  expect(listed(stay({ holdId: 'H-9-2' }), true)).not.toContain('both, otherwise');
  expect(listed(stay({ holdId: 'H-9-2' }), false)).toMatch(/otherwise than recorded:\n.* H-9-2 .*; on record H-9-1$/);
});
