// The gate: the first thing that speaks against it is the answer; the lowest limit governs; never "run", never a promise.
import { expect, test } from 'vitest';
import { GATE_CAUTION } from '../../../shared/gate.ts';
import { copyOfFloor, gate } from '../../../services/rules/index.ts';
import { play } from './play.ts';
import { findingFor, HELD_WITH_A_1 } from './suspecting.ts';

test('one word and one reason for each case', () => {
  play(`
    06:00 declare S-1 maximum 20,000
    06:00 ask     A-1 in S-1 at 18000 rpm     => gate A-1 in S-1: MEASURE FIRST, unknown-assembly
    06:05 build   A-1 marked 19,000
    06:06 ask     A-1 in S-7 at 18000 rpm     => gate A-1 in S-7: HOLD BACK, unknown-spindle
    06:06 ask     A-1 in S-1 at 18000 rpm     => gate A-1 in S-1: MEASURE FIRST, not-measured-since-build
    06:06 ask     A-1 in S-1 at 19500 rpm     => gate A-1 in S-1: HOLD BACK, speed-above-marked
    06:10 result  A-1 1.6 ± 0.2 g·mm
    06:11 ask     A-1 in S-1 at 18000 rpm     => gate A-1 in S-1: MEASURE FIRST, undecided
    06:11 ask     A-1 in S-1 at 15000 rpm     => gate A-1 in S-1: NO OBJECTION, within
    06:20 result  A-1 1.35 ± 0.2 g·mm
    06:21 ask     A-1 in S-1                  => gate A-1 in S-1: NO OBJECTION, within
    06:21 ask     A-1 in S-1 at 18999 rpm     => gate A-1 in S-1: HOLD BACK, speed-above-balanced
    06:30 result  A-1 0.3 ± 0.1 g·mm
    06:31 ask     A-1 in S-1 at 19000 rpm     => gate A-1 in S-1: NO OBJECTION, within
    06:32 build   A-1 marked 40,000
    06:32 ask     A-1 in S-1 at 20500 rpm     => gate A-1 in S-1: HOLD BACK, speed-above-spindle
    06:40 result  A-1 6 g·mm                  => hold A-1 residual-exceeds
    06:41 ask     A-1 in S-1 at 18000 rpm     => gate A-1 in S-1: HOLD BACK, on-hold
  `);
});

test('ids in each other’s place are said to be so: a scanner does not know which field it types into', () => {
  const { floor } = play(`
    06:00 declare S-1 maximum 20,000
    06:05 build   A-1 marked 19,000`);
  expect(gate(floor, { spindleId: 'A-1', assemblyId: 'S-1' })).toMatchObject({
    word: 'HOLD BACK',
    why: 'A-1 is an assembly here, and S-1 is a spindle: the two stand in each other’s place.',
  });
});

test('a spindle on hold for what it is takes nobody; one that is held for what is in it takes another', () => {
  play(`
    06:00 limit   S-1 overall 4.5 from 1000 to 24000
    06:01 build   A-1
    06:02 result  A-1 0.3 g·mm
    06:03 build   A-2
    06:04 result  A-2 9 g·mm                         => hold A-2 residual-exceeds
    06:05 load    A-2 in S-1 at 18000 rpm            => hold S-1 held-assembly-loaded
    06:06 ask     A-1 in S-1 at 18000 rpm            => gate A-1 in S-1: NO OBJECTION, within
    06:07 unload  S-1                                => released S-1 held-assembly-loaded
    07:00 reading S-1 overall 5 ×6 every 20 s        => hold S-1 overall-over-limit
    07:10 ask     A-1 in S-1 at 18000 rpm            => gate A-1 in S-1: HOLD BACK, spindle-on-hold
  `);
});

test('what a hold may come from is measured before it runs again anywhere, until its cause is found or it is measured', () => {
  const { floor } = play(`
    06:00 limit   S-1 overall 4.5 from 1000 to 24000
    06:01 declare S-2
    06:02 build   A-1
    06:03 result  A-1 0.3 g·mm
    06:04 build   A-2
    06:05 result  A-2 0.3 g·mm
    06:06 load    A-1 in S-1 at 18000 rpm
    07:00 reading S-1 overall 5 ×6 every 20 s        => hold S-1 overall-over-limit
  `);
  const [hold] = [...floor.holds.values()];
  if (hold === undefined) throw new Error('there is a hold');
  const finding = (assembly: number, named?: 'spindle') =>
    findingFor(
      hold,
      [
        { cause: 'spindle', of: 'S-1', probability: 0.9 - assembly },
        { cause: 'assembly', of: 'A-1', probability: assembly },
      ],
      named,
    );
  const asked = (assemblyId: string) => gate(floor, { spindleId: 'S-2', assemblyId, speedRpm: 18_000 });
  expect(asked('A-1').word).toBe('NO OBJECTION');
  floor.holds.set(hold.holdId, { ...hold, findings: [finding(0.4)] });
  expect(asked('A-1')).toMatchObject({
    word: 'MEASURE FIRST',
    reason: 'suspected',
    why: 'A-1 may be what S-1 vibrates from: the cause of its hold is not found yet.',
    holdId: hold.holdId,
  });
  expect(asked('A-2').word).toBe('NO OBJECTION');
  floor.holds.set(hold.holdId, { ...hold, findings: [finding(0.4), finding(0.05, 'spindle')] });
  expect(asked('A-1').word).toBe('NO OBJECTION');
  floor.holds.set(hold.holdId, { ...hold, findings: [finding(0.4)] });
  play('07:30 result A-1 0.3 g·mm', floor);
  expect(asked('A-1').word).toBe('NO OBJECTION');
});

test.each<[own: string | undefined, theirs: string | undefined, word: string]>([
  ['HSK-A63', 'HSK-A63', 'NO OBJECTION'],
  ['HSK-A63', 'hsk a 63', 'NO OBJECTION'],
  ['HSK-A63', undefined, 'NO OBJECTION'],
  [undefined, 'HSK-A63', 'NO OBJECTION'],
  ['HSK-A100', 'HSK-A63', 'HOLD BACK'],
  ['HSK-E63', 'HSK-A63', 'HOLD BACK'],
])('an assembly with %s and a spindle with %s: %s', (own, theirs, word) => {
  const { floor } = play(`
    06:00 declare S-1
    06:05 build   A-1
    06:10 result  A-1 0.3 g·mm
  `);
  const spindle = floor.spindles.get('S-1');
  const assembly = floor.assemblies.get('A-1');
  if (spindle?.declaration === undefined || assembly === undefined) throw new Error('both are declared');
  const declaration = { ...spindle.declaration, interface: theirs };
  floor.spindles.set('S-1', { ...spindle, declaration });
  floor.assemblies.set('A-1', { ...assembly, builds: assembly.builds.map((one) => ({ ...one, interface: own })) });
  const answer = gate(floor, { spindleId: 'S-1', assemblyId: 'A-1', speedRpm: 18_000 });
  const reason = word === 'HOLD BACK' ? 'interface-differs' : 'within';
  expect(answer).toMatchObject({ word, reason });
});

test('after a maintenance release the answer says that this may be the run that verifies it', () => {
  const { floor } = play(`
    06:00 limit   S-1 overall 4.5 from 1000 to 24000
    06:01 build   A-1
    06:02 result  A-1 0.3 g·mm
    07:00 reading S-1 overall 5 ×6 every 20 s        => hold S-1 overall-over-limit
  `);
  const [hold] = [...floor.holds.values()];
  if (hold === undefined) throw new Error('there is a hold');
  const cause = floor.position;
  const step = { state: 'checked', at: hold.raisedAt, by: 'Ada', cause, awaits: 'verification-run' } as const;
  floor.holds.set(hold.holdId, { ...hold, state: 'checked', steps: [...hold.steps, step] });
  const answer = gate(floor, { spindleId: 'S-1', assemblyId: 'A-1', speedRpm: 18_000 });
  expect(answer).toMatchObject({ word: 'NO OBJECTION', holdId: hold.holdId });
  expect(answer.next).toMatch(/^S-1 is on hold until a run verifies that maintenance put it right/);
});

test('what is over its limit as last read is objected to, whoever has ended its hold; another assembly is not', () => {
  const { floor } = play(HELD_WITH_A_1);
  play(
    `
    07:05 void    S-1 "the wall shakes"              => void S-1 overall-over-limit
    07:06 reading S-1 overall 5.2 ×3 every 20 s
    07:07 build   A-2
    07:08 result  A-2 0.3 g·mm
  `,
    floor,
  );
  const asked = (assemblyId: string) => gate(floor, { spindleId: 'S-1', assemblyId, speedRpm: 18_000 });
  expect(asked('A-1')).toMatchObject({
    word: 'HOLD BACK',
    reason: 'over-limit',
    why: 'As last read S-1 is over its limit with A-1 in it: overall vibration above 4.5 mm/s; its hold has ended, and it has not come down since.',
  });
  expect(asked('A-2').word).toBe('NO OBJECTION');
  // Clamped again nothing is read of it yet.
  const anew = copyOfFloor(floor);
  play('07:10 load A-1 in S-1 at 18000 rpm', anew);
  expect(gate(anew, { spindleId: 'S-1', assemblyId: 'A-1', speedRpm: 18_000 }).word).toBe('NO OBJECTION');
  play('07:20 reading S-1 overall 1.2 ×12 every 20 s', floor);
  expect(asked('A-1').word).toBe('NO OBJECTION');
});

test('above a maximum the next step is the speed that governs, not the maximum', () => {
  const { floor } = play(`
    06:00 declare S-1 maximum 20,000
    06:05 build   A-1 marked 12,000
    06:10 result  A-1 1.3 ± 0.05 g·mm
  `);
  expect(gate(floor, { spindleId: 'S-1', assemblyId: 'A-1', speedRpm: 60_000 }).next).toContain('12,000 rpm or less');
  play('06:20 build A-1 marked 30,000\n06:21 result A-1 1.3 ± 0.05 g·mm', floor);
  expect(gate(floor, { spindleId: 'S-1', assemblyId: 'A-1', speedRpm: 60_000 }).next).toContain('20,000 rpm or less');
});

test('the governing speed is the lowest of mark, balance and spindle, and says which', () => {
  const { floor } = play(`
    06:00 declare S-1 maximum 20,000
    06:05 build   A-1 marked 19,000
    06:10 result  A-1 1.3 ± 0.05 g·mm
  `);
  const answer = gate(floor, { spindleId: 'S-1', assemblyId: 'A-1', speedRpm: 18_000 });
  expect(answer).toMatchObject({ governingSpeedRpm: 19_000, governedBy: 'marked-maximum', askedSpeedRpm: 18_000 });
  expect(answer.caution).toBe(GATE_CAUTION);
  play('06:20 build A-1 build b2\n06:21 result A-1 build b2 1.5 ± 0.05 g·mm', floor);
  const balanced = gate(floor, { spindleId: 'S-1', assemblyId: 'A-1', speedRpm: 18_000 });
  // ISO 21940-11: G 2.5, 1.2 kg, (1.5 + 0.05) g·mm → 60000/2π · 2.5 · 1.2 / 1.55 = 18,482.5 rpm.
  expect(balanced.governedBy).toBe('balance');
  expect(balanced.governingSpeedRpm).toBeCloseTo(18_482.5, 1);
});

test('no answer speaks of running or promises anything', () => {
  const { floor } = play(`
    06:00 declare S-1
    06:05 build  A-1
    06:10 result A-1 0.3 ± 0.05 g·mm
  `);
  for (const speedRpm of [1000, 18_000, 90_000]) {
    const { word, why, next } = gate(floor, { spindleId: 'S-1', assemblyId: 'A-1', speedRpm });
    expect(`${word} ${why} ${next}`).not.toMatch(/\b(safe|safely|run|guarantee)\b/i);
  }
});

test('above what it is meant for, balance alone is no answer where no marked maximum is known', () => {
  const { floor } = play(`
    06:05 build   A-1 12,000 rpm unmarked
    06:10 result  A-1 0.3 ± 0.05 g·mm
    06:20 load    A-1 in S-1 at 12000 rpm     => gate A-1 in S-1: NO OBJECTION, within
    06:21 ask     A-1 in S-1 at 12001 rpm     => gate A-1 in S-1: HOLD BACK, no-marked-maximum
    06:22 machine S-1 programmed 20000        => gate A-1 in S-1: HOLD BACK, no-marked-maximum
    06:23 unload  S-1
    06:30 build   A-1 12,000 rpm unmarked build b2 marked 20,000
    06:31 result  A-1 build b2 0.3 ± 0.05 g·mm
    06:32 ask     A-1 in S-1 at 20000 rpm     => gate A-1 in S-1: NO OBJECTION, within
    06:35 build   A-1 12,000 rpm unmarked build b3
    06:36 result  A-1 build b3 0.3 ± 0.05 g·mm
    06:37 ask     A-1 in S-1 at 20000 rpm     => gate A-1 in S-1: HOLD BACK, no-marked-maximum
    06:40 declare S-1 maximum 20,000
    06:41 ask     A-1 in S-1 at 20000 rpm     => gate A-1 in S-1: NO OBJECTION, within
  `);
  play('06:50 build A-2 12,000 rpm unmarked\n06:51 result A-2 0.3 ± 0.05 g·mm\n06:52 load A-2 in S-2', floor);
  expect(gate(floor, { spindleId: 'S-2', assemblyId: 'A-2', speedRpm: 40_000 })).toMatchObject({
    why: 'It is meant for up to 12,000 rpm, and no marked maximum of its parts is known.',
    next: 'Have the marked maximum of its parts declared, or program 12,000 rpm or less.',
  });
});

test('the answer for what is loaded is told at the load and when it changes, not otherwise', () => {
  play(`
    06:00 declare S-1
    06:05 build   A-1
    06:10 result  A-1 1.3 ± 0.05 g·mm
    06:20 load    A-1 in S-1                         => gate A-1 in S-1: NO OBJECTION, within
    06:21 machine S-1 programmed 18000 actual 0
    06:22 machine S-1 programmed 15000               => gate A-1 in S-1: NO OBJECTION, within
    06:23 declare S-1 maximum 12,000                 => gate A-1 in S-1: HOLD BACK, speed-above-spindle
    06:24 machine S-1 programmed 10000               => gate A-1 in S-1: NO OBJECTION, within
  `);
});
