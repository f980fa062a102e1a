// Granting and finding use one list: a filter that may be granted and matches a topic is always found for it.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { DEVICE_KINDS, SUBJECT_KINDS } from '../../../shared/ids.ts';
import { BACK_CHANNELS, backTopic, OUT_CHANNELS, outTopic } from '../../../shared/topics.ts';
import { filtersOf, maySubscribe } from '../../../services/broker/subscriptions.ts';

/** Matching as MQTT 3.1.1, 4.7.1 has it, level by level. */
function matches(filter: string, topic: string): boolean {
  const [wanted, levels] = [filter.split('/'), topic.split('/')];
  for (const [n, level] of wanted.entries()) {
    if (level === '#') return true;
    if (n >= levels.length || (level !== '+' && level !== levels[n])) return false;
  }
  return wanted.length === levels.length;
}

const id = fc.constantFrom('S-01', 'S-02', 'bench-1', 'p1', 'out', 'back');
const topic = fc.oneof(
  fc.tuple(id, fc.constantFrom(...BACK_CHANNELS)).map(([device, channel]) => backTopic('p1', device, channel)),
  fc
    .tuple(fc.constantFrom(...SUBJECT_KINDS), id, fc.constantFrom(...OUT_CHANNELS))
    .map(([kind, subject, channel]) => outTopic('p1', kind, subject, channel)),
);
const credential = fc.record({
  device: id,
  kind: fc.constantFrom(...DEVICE_KINDS),
  serves: fc.array(fc.constantFrom('S-01', 'S-02', '*'), { maxLength: 2 }),
});

test('every filter that may be granted and matches a topic is found for it, and no other', () => {
  fc.assert(
    fc.property(
      topic,
      topic,
      credential,
      fc.nat(7),
      fc.constantFrom('+', '#', 'S-01'),
      (said, other, who, at, level) => {
        // A filter near the topics there are: one of them with a level replaced.
        const levels = other.split('/');
        const replaced = levels.map((one, n) => (n === at ? level : one)).join('/');
        for (const filter of [other, replaced, replaced.replace(/#.*/, '#')]) {
          if (!maySubscribe('p1', who, filter)) continue;
          expect(filtersOf(said).includes(filter)).toBe(matches(filter, said));
        }
      },
    ),
    { numRuns: 5_000 },
  );
});
