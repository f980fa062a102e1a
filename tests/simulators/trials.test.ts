// Trials: the same for the same seed, labelled as they say, in the order in which their messages come in.
import { describe, expect, test } from 'vitest';
import { instantOf } from '../../shared/time.ts';
import { parseTopic } from '../../shared/topics.ts';
import { BELOW_TRIALS, HARMLESS_TRIALS, PLANTED_TRIALS, trialOf } from '../../simulators/trials/index.ts';
import { MessageCheck } from './messages.ts';

const SEEDS = [11, 12, 13];

describe.each(PLANTED_TRIALS)('%s', (kind) => {
  test.each(SEEDS)('has its label, within its time, seed %i', (seed) => {
    const { labels } = trialOf(kind, seed);
    const own = labels.filter((label) => label.kind === kind && label.to > label.from);
    expect(own.length).toBeGreaterThanOrEqual(1);
    for (const { from, to, tellableFrom = from } of own) {
      expect(tellableFrom).toBeGreaterThanOrEqual(from);
      expect(tellableFrom).toBeLessThan(to);
    }
  });
});

test.each(['spindle-unbalance-growing', 'bearing-defect-growing'] as const)('%s goes over its limit', (kind) => {
  expect(SEEDS.map((seed) => trialOf(kind, seed).labels[0]?.tellableFrom)).not.toContain(undefined);
});

test.each(BELOW_TRIALS)('%s says that no limit tells it', (kind) => {
  expect(SEEDS.map((seed) => trialOf(kind, seed).labels[0]?.tellableFrom)).toEqual([undefined, undefined, undefined]);
});

test.each(HARMLESS_TRIALS)('%s has no label but of the ordinary work of a bench', (kind) => {
  const { labels } = trialOf(kind, 11);
  expect(labels.filter((label) => label.kind !== 'residual-exceeds')).toEqual([]);
});

test('the same kind and seed give the same messages, another seed others', () => {
  const first = trialOf('sensor-stuck', 11).messages();
  expect(trialOf('sensor-stuck', 11).messages()).toEqual(first);
  expect(trialOf('sensor-stuck', 12).messages()).not.toEqual(first);
});

test.each(['quiet-life', 'speed-change', 'heavy-cutting', 'resonance'] as const)('%s: valid, in time order', (kind) => {
  // A seed whose messages neither come twice nor late.
  const seed = SEEDS.find((one) => !hasDoubles(trialOf(kind, one).messages())) ?? 0;
  const check = new MessageCheck();
  for (const message of trialOf(kind, seed).messages()) check.take(message);
  expect(check.counts['summary']).toBeGreaterThan(2000);
});

function hasDoubles(
  messages: readonly { readonly envelope: { readonly source: string; readonly id: string } }[],
): boolean {
  return new Set(messages.map(({ envelope }) => `${envelope.source} ${envelope.id}`)).size < messages.length;
}

test('late messages come hours after what they tell, doubled ones come again, and wrong clocks say other times', () => {
  const delays = trialOf('late-messages', 11)
    .messages()
    .map(({ at, envelope }) => at - instantOf(envelope.time ?? ''));
  expect(Math.max(...delays.slice(200))).toBeGreaterThan(30 * 60_000);
  expect(hasDoubles(trialOf('doubled-messages', 11).messages())).toBe(true);
  const skewed = trialOf('skewed-clock', 11)
    .messages()
    .filter(({ topic }) => parseTopic(topic)?.direction === 'in');
  expect(
    skewed.filter(({ at, envelope }) => Math.abs(at - instantOf(envelope.time ?? '')) > 500).length,
  ).toBeGreaterThan(1000);
});
