// Rules as data: a rule set changes how long a limit has to be exceeded, where its scope says so, from its place on.
import { expect, test } from 'vitest';
import { copyOfFloor, decide, emptyFloor, evolve } from '../../../services/rules/index.ts';
import { SETTING_DEFAULTS, tunedBy, UNTUNED } from '../../../services/rules/settings.ts';
import { RULE_SETS_KEPT_MAX, RULE_SETTINGS, SETTING_BOUNDS } from '../../../shared/rule-settings.ts';
import { play } from './play.ts';

const LIMITS = '06:00 limit S-1 overall 4.5 from 1000 to 24000';
const knocks = (day: number, count: number, ends: string): string =>
  Array.from({ length: count }, (_, nth) => {
    const words = `day ${day} 07:0${nth} reading S-1 overall 5.${nth} 1x 1.0`;
    return nth === count - 1 ? words + ends : words;
  }).join('\n');

test('what nobody tunes is as it was: the defaults are the constants', () => {
  expect(tunedBy({})).toEqual(UNTUNED);
  expect(tunedBy(SETTING_DEFAULTS)).toEqual(UNTUNED);
  for (const name of RULE_SETTINGS) {
    const { least, most } = SETTING_BOUNDS[name];
    expect(SETTING_DEFAULTS[name]).toBeGreaterThanOrEqual(least);
    expect(SETTING_DEFAULTS[name]).toBeLessThanOrEqual(most);
  }
});

test('fewer readings are enough where the plant says so, from then on', () => {
  play(`
    ${LIMITS}
    ${knocks(1, 3, '')}
    08:00 reading S-1 overall 2.0 1x 1.0
    09:00 tune readings 3
    ${knocks(2, 3, ' => hold S-1 overall-over-limit')}
  `);
});

test('one reading is enough where one is asked for and no time', () => {
  play(`
    ${LIMITS}
    06:30 tune readings 1 spanning 0 s
    07:00 reading S-1 overall 5.0 1x 1.0 => hold S-1 overall-over-limit
  `);
});

test('a stay that a pause broke begins with the reading after it, also where one reading is enough', () => {
  play(`
    ${LIMITS}
    06:30 tune readings 1 spanning 60 s pause 120 s
    07:00 reading S-1 overall 5.0 1x 1.0
    08:00 reading S-1 overall 5.0 1x 1.0
    08:01 reading S-1 overall 5.0 1x 1.0 => hold S-1 overall-over-limit
  `);
});

test('a row of one spindle leaves the others as they are', () => {
  const { floor } = play(`
    ${LIMITS}
    06:10 tune readings 3 spindle S-1
    07:00 reading S-1 overall 2.0 1x 1.0
    07:00 reading S-2 overall 2.0 1x 1.0
  `);
  expect(floor.spindles.get('S-1')?.tuned?.persistenceReadings).toBe(3);
  expect(floor.spindles.get('S-2')?.tuned).toEqual(UNTUNED);
});

test('what is loaded decides too, and no longer once it is out', () => {
  const { floor } = play(`
    06:10 tune assembly A-* readings 9
    06:20 reading S-1 overall 1.0 1x 0.5
    06:30 load A-1 in S-1
  `);
  expect(floor.spindles.get('S-1')?.tuned?.persistenceReadings).toBe(9);
  play('07:00 unload S-1', floor);
  expect(floor.spindles.get('S-1')?.tuned).toEqual(UNTUNED);
  play(
    `
    07:10 tune version 2 interface HSK-* readings 4
    07:15 build A-1 build b1 through HSK-A63
    07:20 load A-1 in S-1 => hold A-1 not-measured-since-build`,
    floor,
  );
  expect(floor.spindles.get('S-1')?.tuned?.persistenceReadings).toBe(4);
});

test('the hysteresis is tuned: what clears at a lower share stays one hold', () => {
  const story = (tune: string): string => `
    ${LIMITS}
    ${tune}
    ${knocks(1, 5, ' => hold S-1 overall-over-limit')}
    07:30 reading S-1 overall 4.0 1x 1.0`;
  const five = Array.from({ length: 5 }, (_, nth) => `08:0${nth} reading S-1 overall 5.0 1x 1.0`);
  const again = [...five.slice(0, 4), `${five[4]} => again S-1 overall-over-limit`].join('\n');
  play(`${story('06:30 tune clear 0.8')}\n${five.join('\n')}`);
  play(`${story('06:30 tune clear 0.9')}\n${again}`);
});

test('a snapshot keeps the sets and what they ask; only so many are remembered', () => {
  const many = Array.from({ length: RULE_SETS_KEPT_MAX + 3 }, (_, nth) => `06:10 tune version ${nth + 1} readings 7`);
  const { floor } = play(`06:00 reading S-1 overall 1.0 1x 0.5\n${many.join('\n')}`);
  expect(floor.ruleSets).toHaveLength(RULE_SETS_KEPT_MAX);
  const back = structuredClone(copyOfFloor(floor));
  expect(back.ruleSets).toEqual(floor.ruleSets);
  expect(back.spindles.get('S-1')?.tuned?.persistenceReadings).toBe(7);
});

test('a spindle that is first named later is tuned as the plant is', () => {
  const { floor } = play('06:00 tune readings 2\n06:10 reading S-9 overall 1.0 1x 0.5');
  expect(floor.spindles.get('S-9')?.tuned?.persistenceReadings).toBe(2);
  expect(floor.spindles.get('S-9')?.tuned?.persistenceMs).toBe(UNTUNED.persistenceMs);
  const planned = play('06:00 tune readings 2\n06:10 work S-8 W-1 from 07:05 until 08:05 "grease" => remark S-8: …');
  expect(planned.floor.spindles.get('S-8')?.tuned?.persistenceReadings).toBe(2);
});

test('how sure unexplained vibration is held for and how long a repair is verified are tuned as well', () => {
  const { floor } = play('06:00 reading S-1 overall 1.0 1x 0.5\n06:10 tune spindle S-1 verify 25');
  expect(floor.spindles.get('S-1')?.tuned).toEqual({ ...UNTUNED, verificationReadings: 25 });
});

test('declaring a set decides nothing by itself', () => {
  const floor = emptyFloor('test');
  const rules = { version: 1, name: 'n', author: 'Ada', note: '', rows: [] };
  const entry = {
    kind: 'rules-declared',
    position: 1,
    at: 1,
    id: 'a',
    actor: { name: 'Ada', roles: ['engineer'] as const },
    data: { rules, why: 'why' },
  } as unknown as Parameters<typeof decide>[1];
  const outcomes = decide(floor, entry);
  expect(outcomes).toEqual([]);
  evolve(floor, entry, outcomes);
  expect(floor.ruleSets.at(-1)?.rules).toEqual(rules);
});
