// The evaluation itself: what counts as told, as told by the wrong word, as told late, and as told for nothing.
import { describe, expect, test } from 'vitest';
import type { Trial, TrialLabel } from '../../simulators/index.ts';
import { figuresOf } from './figures.ts';
import { judgeTrial } from './judge.ts';
import type { Observed, Told, Word } from './rehearsal.ts';

const MINUTE = 60_000;
const NOON = Date.UTC(2026, 5, 1, 12);

const growing: TrialLabel = {
  kind: 'spindle-unbalance-growing',
  subject: { kind: 'spindle', id: 'S-01' },
  from: NOON,
  to: NOON + 300 * MINUTE,
  tellableFrom: NOON + 60 * MINUTE,
};

function told(minutes: number, word: Word, about: string = 'S-01'): Told {
  return { at: NOON + minutes * MINUTE, word, isHold: true, about: [about], words: '' };
}

function judged(labels: readonly TrialLabel[], heard: readonly Told[]): ReturnType<typeof judgeTrial> {
  const loads = [30, 70, 80, 200].map((minutes) => ({
    at: NOON + minutes * MINUTE,
    spindleId: 'S-01',
    assemblyId: 'A-0101',
  }));
  const observed: Observed = { told: heard, loads, lines: 100, refused: 0 };
  const trial: Trial = {
    kind: 'spindle-unbalance-growing',
    seed: 1,
    plantId: 'demo',
    intervalS: 60,
    spindleDays: 4,
    labels,
    lateByMs: 0,
    messages: () => [],
  };
  return judgeTrial(trial, observed);
}

function figure(verdict: ReturnType<typeof judgeTrial>, name: string): number | undefined {
  return figuresOf([verdict]).find((one) => one.name === name)?.value;
}

describe('a fault', () => {
  test('is told by its word, so long after it could be told, so many loads later', () => {
    const verdict = judged([growing], [told(90, 'synchronous-over-limit')]);
    expect(verdict.faults).toMatchObject([{ first: 'synchronous-over-limit', delayS: 30 * 60, delayLoads: 2 }]);
    expect(verdict.forNothing).toEqual([]);
  });

  test('that is told by another word first is detected, and the reason was wrong', () => {
    const verdict = judged([growing], [told(80, 'overall-over-limit'), told(90, 'synchronous-over-limit')]);
    expect(figure(verdict, 'decide.detected_share.spindle-unbalance-growing')).toBe(1);
    expect(figure(verdict, 'decide.reason_right')).toBe(0);
  });

  test('of which nothing is told counts as missed', () => {
    expect(figure(judged([growing], []), 'decide.detected_share.spindle-unbalance-growing')).toBe(0);
  });

  test('below every limit is never counted as detected, whatever is said of it', () => {
    const below = { ...growing, tellableFrom: undefined };
    const verdict = judged([below], [told(90, 'synchronous-over-limit')]);
    expect(figuresOf([verdict]).filter(({ name }) => name.includes('detected'))).toEqual([]);
  });
});

describe('a hold', () => {
  test('on another spindle, before the fault or long after it is for nothing, per 1,000 spindle-days', () => {
    const heard = [
      told(90, 'synchronous-over-limit', 'S-02'),
      told(-1, 'overall-over-limit'),
      told(311, 'overall-over-limit'),
    ];
    const verdict = judged([growing], heard);
    expect(verdict.forNothing).toHaveLength(3);
    expect(figure(verdict, 'decide.false_holds_per_1000_spindle_days')).toBe(750);
  });
});
