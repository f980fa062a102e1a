// Hours given away, told by hand: what counts, what does not, what is kept; and the override that was turned down around a rise.
import { expect, test } from 'vitest';
import type { Entry } from '../../../shared/entries.ts';
import type { OverrideKept } from '../../../shared/headroom.ts';
import { overrideKeptWords } from '../../../shared/headroom-words.ts';
import { MILLISECONDS_A_MINUTE, MILLISECONDS_AN_HOUR } from '../../../shared/time.ts';
import { copyOfFloor, decide, emptyFloor, evolve, type Floor } from '../../../services/rules/index.ts';
import { MIDNIGHT } from './story-data.ts';

type Told = readonly [hours: number, kind: string, data: object];

class Play {
  floor: Floor = emptyFloor('test');
  readonly kept: OverrideKept[] = [];
  holds = 0;
  #position = 0;

  take(hours: number, kind: string, data: object): this {
    const at = MIDNIGHT + Math.round(hours * MILLISECONDS_AN_HOUR);
    const position = (this.#position += 1);
    const sent = { position, at, id: `m-${position}`, device: kind === 'summary' ? 'sensor-1' : 'machine-1' };
    const entry = { kind, ...sent, data: { spindleId: 'S-1', ...data }, actor: ACTOR } as unknown as Entry;
    const outcomes = decide(this.floor, entry);
    for (const outcome of outcomes) {
      if (outcome.kind === 'override-kept') this.kept.push(outcome.kept);
      if (outcome.kind === 'hold-raised') this.holds += 1;
    }
    evolve(this.floor, entry, outcomes);
    return this;
  }

  all(told: readonly Told[]): this {
    for (const [hours, kind, data] of told) this.take(hours, kind, data);
    return this;
  }

  /** A control that repeats itself every half hour, the end included. */
  cuts(from: number, to: number, state: object): this {
    for (let at = from; at <= to + 1e-9; at += 0.5) this.take(at, 'machine', { ...CUTS, ...state });
    return this;
  }

  get state() {
    const state = this.floor.headroom.get('S-1');
    if (state === undefined) throw new Error('nothing was told of S-1');
    return state;
  }

  get hours() {
    const { cutMs, reducedMs, awayMs, untoldMs } = this.state;
    const hour = (ms: number): number => Math.round((ms / MILLISECONDS_AN_HOUR) * 1000) / 1000;
    return { cut: hour(cutMs), reduced: hour(reducedMs), away: hour(awayMs), untold: hour(untoldMs) };
  }
}

const ACTOR = { name: 'Ada-Invented', roles: ['engineer'] };
const CUTS = { programmedSpeedRpm: 10_000, overridePercent: 100, actualSpeedRpm: 10_000, cutting: true };
const LOAD = { action: 'load', assemblyId: 'A-1', programmedSpeedRpm: 10_000 };
const LIMIT = { quantity: 'overall', fromSpeedRpm: 1000, toSpeedRpm: 24_000, limitMmS: 2.8, source: 'invented maker' };
const DECLARED = { machine: 'm', cell: 'c', limits: [LIMIT] };

test.each<[what: string, state: object, reduced: number, away: number]>([
  ['at the programmed speed', {}, 0, 0],
  ['turned down to 80 %, as the control measures it', { overridePercent: 80, actualSpeedRpm: 8000 }, 1, 0.2],
  ['turned down, the actual speed not told', { overridePercent: 80, actualSpeedRpm: undefined }, 1, 0.2],
  ['turned down, but the spindle wanders by less than 1 %', { overridePercent: 95, actualSpeedRpm: 9950 }, 0, 0],
  ['slower at full override: the control holds it back', { overridePercent: 100, actualSpeedRpm: 8000 }, 0, 0],
  ['turned up', { overridePercent: 110, actualSpeedRpm: 11_000 }, 0, 0],
  ['slower, and the override is not told', { overridePercent: undefined, actualSpeedRpm: 7500 }, 1, 0.25],
  ['a program that asks for less', { programmedSpeedRpm: 6000, actualSpeedRpm: 6000 }, 0, 0],
])('an hour in the cut %s', (_what, state, reduced, away) => {
  const play = new Play().take(8, 'load', LOAD).cuts(9, 10, state);
  expect(play.hours).toMatchObject({ cut: 1, reduced, away });
});

test('out of the cut, standing and unloaded nothing is given away', () => {
  const low = { overridePercent: 50, actualSpeedRpm: 5000 };
  const play = new Play()
    .take(8, 'load', LOAD)
    .cuts(8, 9, { ...low, cutting: false })
    .cuts(9, 10, { ...low, programmedSpeedRpm: 0, actualSpeedRpm: 0 });
  expect(play.hours).toMatchObject({ cut: 0, away: 0 });
});

test('a reading tells of the cut and the speed where the control tells neither', () => {
  const reading = { speedRpm: 8000, overallMmS: 1, synchronousMmS: 0.5, cutting: true };
  const play = new Play().take(8, 'load', LOAD).take(8, 'machine', { programmedSpeedRpm: 10_000, overridePercent: 80 });
  for (let at = 8; at <= 9; at += 0.25) play.take(at, 'summary', reading);
  expect(play.hours).toMatchObject({ cut: 1, reduced: 1, away: 0.2 });
});

test('what was told last holds for an hour; beyond it nothing is known', () => {
  const play = new Play().take(8, 'load', LOAD).cuts(8, 8, { overridePercent: 50, actualSpeedRpm: 5000 });
  play.take(13, 'machine', { cutting: false });
  expect(play.hours).toEqual({ cut: 1, reduced: 1, away: 0.5, untold: 4 });
});

test('days and programs are kept apart, weeks that are over are let go', () => {
  const play = new Play().take(8, 'load', LOAD);
  play.cuts(8, 10, {}).cuts(10, 11, { programmedSpeedRpm: 8000, actualSpeedRpm: 8000 });
  expect(play.state.programs.map(({ programmedRpm, cutMs }) => [programmedRpm, cutMs / MILLISECONDS_AN_HOUR])).toEqual([
    [10_000, 2],
    [8000, 1],
  ]);
  play.take(24 + 8, 'machine', CUTS).take(50 * 24, 'machine', CUTS);
  expect(play.state.programs).toHaveLength(0);
  expect(play.state.days).toHaveLength(2);
  expect(play.state.sums[0]).toBe(4 * MILLISECONDS_AN_HOUR);
});

/** Cuts at full override in the morning; over its limit at 12:00, held; the hold is released by a person as asked. */
function heldAtNoon(): Play {
  const play = new Play().take(7, 'spindle-declared', DECLARED).take(8, 'load', LOAD).cuts(8, 12, {});
  for (let nth = 0; nth < 8; nth += 1)
    play.take(12 + nth / 60, 'summary', { speedRpm: 10_000, overallMmS: 4, cutting: false });
  expect(play.holds).toBe(1);
  return play;
}

const LOW = { overridePercent: 80, actualSpeedRpm: 8000 };

function voided(play: Play, at: number): Play {
  const [holdId] = play.floor.holds.keys();
  return play.take(at, 'hold-act', { act: 'void', holdId, note: 'the sensor hung loose' });
}

test('turned down under a hold and kept down after it ended: said once, and again when it is up', () => {
  const play = voided(heldAtNoon().cuts(13, 14, LOW), 14.25).cuts(14.5, 16.5, LOW);
  expect(play.kept).toHaveLength(0);
  play.cuts(17, 20, LOW);
  expect(play.kept).toHaveLength(1);
  expect(play.kept[0]).toMatchObject({ state: 'kept', fromPercent: 100, toPercent: 80, goneBy: 'hold-ended' });
  expect(overrideKeptWords(play.kept[0] as OverrideKept)).toMatch(/^The override was turned down from 100 % to 80 %/);
  play.cuts(20.5, 21, {});
  expect(play.kept.map(({ state }) => state)).toEqual(['kept', 'restored']);
  // As far as it was counted with the message before.
  expect(play.kept[1]?.awayHours).toBeCloseTo((20 - 13) * 0.2, 6);
  expect(play.holds).toBe(1);
});

test.each<[what: string, play: () => Play]>([
  [
    'turned down with nothing that rose near it',
    () => new Play().take(8, 'load', LOAD).cuts(8, 12, {}).cuts(12, 30, LOW),
  ],
  [
    'turned up again before the cause was gone',
    () => voided(heldAtNoon().cuts(13, 14, LOW).cuts(14, 15, {}), 15.25).cuts(15.5, 24, {}),
  ],
  ['the hold is still open: it may be turned down for good reason', () => heldAtNoon().cuts(13, 40, LOW)],
  ['a rise a day before', () => voided(heldAtNoon(), 13).cuts(13, 36, {}).cuts(36, 50, LOW)],
  [
    'a warm-up at a reduced override on a fresh control',
    () => new Play().take(8, 'load', LOAD).cuts(8, 8.25, LOW).cuts(8.3, 12, {}),
  ],
  ['a setup hour out of the cut', () => voided(heldAtNoon(), 12.5).cuts(13, 20, { ...LOW, cutting: false })],
  [
    'a program that asks for less, at full override',
    () => voided(heldAtNoon(), 12.5).cuts(13, 30, { programmedSpeedRpm: 8000, actualSpeedRpm: 8000 }),
  ],
  [
    'a step of less than the knob has',
    () => voided(heldAtNoon(), 12.5).cuts(13, 30, { overridePercent: 97, actualSpeedRpm: 9700 }),
  ],
])('nothing is said: %s', (_what, play) => {
  expect(play().kept).toEqual([]);
});

test('a copy of the floor goes its own way, and says the same', () => {
  const play = voided(heldAtNoon().cuts(13, 14, LOW), 14.25);
  const copy = structuredClone(copyOfFloor(play.floor));
  const before = structuredClone(copy.headroom);
  play.cuts(14.5, 20, LOW);
  expect(copy.headroom).toEqual(before);
  const other = Object.assign(new Play(), { floor: copy });
  other.cuts(14.5, 20, LOW);
  expect(other.kept.map((kept) => ({ ...kept, stepPosition: 0 }))).toEqual(
    play.kept.map((kept) => ({ ...kept, stepPosition: 0 })),
  );
  expect(other.kept[0]?.at).toBeLessThan(MIDNIGHT + 24 * 60 * MILLISECONDS_A_MINUTE);
});

test('rates are kept with who declared them', () => {
  const play = new Play().take(8, 'rates-declared', {
    currency: 'INV',
    spindleHour: { amount: 90, source: 'invented' },
    cutters: [],
  });
  expect(play.floor.rates).toMatchObject({ currency: 'INV', by: 'Ada-Invented' });
});
