// Rules (b), (c), (d): the wrong pairing is known at the load. 1.2 kg, G 2.5 (ISO 21940-11): 0.5 g·mm ± 0.05 is good up to 52,087 rpm.
import { expect, test } from 'vitest';
import { play } from './play.ts';

test('a good assembly at its service speed raises nothing', () => {
  const { floor } = play(`
    07:00 declare S-1 maximum 24000
    07:05 build   A-1 marked 24,000
    07:10 result  A-1 0.5 ± 0.05 g·mm
    07:20 load    A-1 in S-1 at 18000 rpm          => gate A-1 in S-1: NO OBJECTION, within
    07:21 machine S-1 programmed 18000 actual 18000
    07:22 machine S-1 actual 18150                 # speeds wander within 1 %
    07:30 unload  S-1
  `);
  expect(floor.holds.size).toBe(0);
});

test('above what it is balanced for: at the load, and when the program changes', () => {
  // 1.3 g·mm ± 0.05 keeps G 2.5 up to 21,221 rpm.
  play(`
    07:00 declare S-1
    07:05 build   A-1
    07:10 result  A-1 1.3 ± 0.05 g·mm
    07:20 load    A-1 in S-1 at 21000 rpm
    07:21 machine S-1 programmed 22000             => hold A-1 speed-above-balanced
    07:22 machine S-1 programmed 22000
    07:23 machine S-1 actual 22000
    07:30 unload  S-1                              => released A-1 speed-above-balanced
    07:40 load    A-1 in S-1 at 24000 rpm          => hold A-1 speed-above-balanced => gate A-1 in S-1: HOLD BACK, on-hold
    07:45 load    A-1 in S-1 at 24000 rpm          => again A-1 speed-above-balanced
    07:50 result  A-1 0.5 ± 0.05 g·mm              => released A-1 speed-above-balanced
  `);
});

test('the actual speed counts, beyond its wander', () => {
  play(`
    07:00 build   A-1
    07:10 result  A-1 1.3 ± 0.05 g·mm
    07:20 load    A-1 in S-1 at 20000 rpm
    07:21 machine S-1 actual 21300
    07:22 machine S-1 actual 22500                 => hold A-1 speed-above-balanced
  `);
});

test('a reading that turns too fast counts when the next one does so too', () => {
  play(`
    07:00 build   A-1
    07:10 result  A-1 1.3 ± 0.05 g·mm
    07:20 load    A-1 in S-1 at 20000 rpm
    07:21 reading S-1 overall 1 1x 0.5 at 40000 rpm
    07:22 reading S-1 overall 1.1 1x 0.5 at 20000 rpm
    07:23 reading S-1 overall 1.2 1x 0.5 at 23000 rpm
    07:24 reading S-1 overall 1.3 1x 0.5 at 23000 rpm   => hold A-1 speed-above-balanced
    07:25 reading S-1 overall 1.4 1x 0.5 at 23000 rpm
  `);
});

test('a reading that waited counts for what was clamped when it was measured, not for what came after', () => {
  play(`
    06:30 birth   sensor-S-1 every 20 s told 06:30
    07:00 build   A-1
    07:10 result  A-1 1.3 ± 0.05 g·mm
    07:20 load    A-1 in S-1 at 20000 rpm told 07:20
    07:21 reading S-1 overall 1 1x 0.5 at 23000 rpm told 07:18           => not comparable: nothing-loaded
    07:21 reading S-1 overall 1.1 1x 0.5 at 23000 rpm cutting told 07:19 => not comparable: cutting
    07:21 reading S-1 overall 1.2 1x 0.5 at 20000 rpm told 07:20:30      => comparable
    07:22 reading S-1 overall 1.3 1x 0.5 at 23000 rpm told 07:21:30
    07:23 reading S-1 overall 1.4 1x 0.5 at 23000 rpm told 07:22:30      => hold A-1 speed-above-balanced
  `);
});

test('the lowest mark governs: not raised by balance, not by a deviation; only unloading ends it', () => {
  const { floor } = play(`
    07:00 build   A-1 marked 15,000 cutter end-mill
    07:10 result  A-1 0.1 ± 0.05 g·mm
    07:20 load    A-1 in S-1 at 18000 rpm                       => hold A-1 speed-above-marked
    07:25 result  A-1 0.05 ± 0.01 g·mm
    07:30 deviate A-1 "customer is waiting"                     => refused: the lowest marked maximum …
    07:35 release A-1 "looks fine" as maintenance               => refused: none of its conditions …
    07:40 machine S-1 programmed 12000
    07:50 unload  S-1                                           => released A-1 speed-above-marked
  `);
  const [hold] = floor.holds.values();
  expect(hold?.evidence.clauses[0]).toMatchObject({ measured: 18000, limit: 15000, unit: '{rev}/min' });
  expect(hold?.evidence.clauses[0]?.source).toContain('cutter end-mill');
});

test('above the mark and above the balance is one hold, with both in its ledger', () => {
  const { floor } = play(`
    07:00 build   A-1 marked 20,000
    07:10 result  A-1 1.3 ± 0.05 g·mm
    07:20 load    A-1 in S-1 at 24000 rpm     => hold A-1 speed-above-marked
  `);
  expect([...floor.holds.values()][0]?.evidence.clauses).toHaveLength(2);
});

test('built or changed since it was measured: known at the load, ended by measuring or by taking it out', () => {
  play(`
    07:00 build   A-1 build b1
    07:10 result  A-1 build b1 0.5 g·mm
    07:20 build   A-1 build b2
    07:30 load    A-1 in S-1 at 18000 rpm     => hold A-1 not-measured-since-build => gate A-1 in S-1: HOLD BACK, on-hold
    07:40 result  A-1 build b2 0.5 g·mm       => released A-1 not-measured-since-build
    08:00 build   A-1 build b3                => hold A-1 not-measured-since-build
    08:10 unload  S-1                         => released A-1 not-measured-since-build
  `);
});

test('a build that only its load names was never measured', () => {
  play(`
    07:00 build   A-1 build b1
    07:10 result  A-1 build b1 0.5 g·mm
    07:20 load    A-1 in S-1 at 18000 rpm build b2     => hold A-1 not-measured-since-build
  `);
});

test('the same build declared again with another cutter was changed', () => {
  play(`
    07:00 build   A-1 cutter C-7
    07:10 result  A-1 0.5 g·mm
    07:15 build   A-1 cutter C-7
    07:20 load    A-1 in S-1 at 18000 rpm
    07:30 unload  S-1
    07:40 build   A-1 cutter C-8       => remark A-1: build b1 was declared again with other parts; measurements before do not count
    07:50 load    A-1 in S-1 at 18000 rpm     => hold A-1 not-measured-since-build
  `);
});

test('an assembly that nobody declared raises no hold: a new plant is not flooded', () => {
  play(`
    07:00 load A-9 in S-1 at 18000 rpm         => gate A-9 in S-1: MEASURE FIRST, unknown-assembly
  `);
});

test('a held assembly that is loaded puts the spindle on hold until it is out', () => {
  play(`
    07:00 build   A-1
    07:10 result  A-1 5.0 g·mm                 => hold A-1 residual-exceeds
    07:20 load    A-1 in S-1 at 18000 rpm      => hold S-1 held-assembly-loaded
    07:25 load    A-1 in S-1 at 18000 rpm      => again S-1 held-assembly-loaded
    07:30 unload  S-1                          => released S-1 held-assembly-loaded
    07:40 load    A-1 in S-2 at 18000 rpm      => hold S-2 held-assembly-loaded
    07:45 load    A-2 in S-2 at 18000 rpm      => released S-2 held-assembly-loaded
    07:50 load    A-1 in S-1 at 18000 rpm      => hold S-1 held-assembly-loaded
    07:59 deviate A-1 "last part of the lot"   => taken A-1 residual-exceeds
    08:00 confirm A-1 named Ben-Invented       => released A-1 residual-exceeds by deviation => released S-1 held-assembly-loaded
  `);
});

test('a bad result that comes while the assembly is in a spindle holds both', () => {
  play(`
    07:00 build   A-1
    07:10 result  A-1 0.5 g·mm
    07:20 load    A-1 in S-1 at 18000 rpm
    07:30 result  A-1 5.0 g·mm                 => hold A-1 residual-exceeds => hold S-1 held-assembly-loaded
    07:40 result  A-1 0.4 g·mm                 => released A-1 residual-exceeds => released S-1 held-assembly-loaded
  `);
});

test('an assembly is in one place: loaded elsewhere it is out of where it was', () => {
  play(`
    07:00 build   A-1
    07:10 result  A-1 1.3 ± 0.05 g·mm
    07:20 load    A-1 in S-1 at 24000 rpm      => hold A-1 speed-above-balanced
    07:30 load    A-1 in S-2 at 18000 rpm      => released A-1 speed-above-balanced => remark A-1: loaded in S-2 though S-1 had not unloaded it
  `);
});

test('a load message that comes after what followed it changes nothing', () => {
  play(`
    07:00 build   A-1
    07:05 result  A-1 0.5 g·mm
    07:20 load    A-1 in S-1 at 18000 rpm told 07:20 boot m sequence 5
    07:30 unload  S-1 told 07:30 boot m sequence 6
    07:40 load    A-1 in S-1 at 60000 rpm told 07:10 boot m sequence 4   => remark S-1: this load message came after what followed it; it is on record and changes nothing
  `);
});

test('a load counts as it came where only the clock of the control says that it happened before', () => {
  play(`
    07:00 build   A-1
    07:05 result  A-1 0.5 g·mm
    07:20 load    A-1 in S-1 at 18000 rpm told 07:20
    07:30 unload  S-1 told 07:30
    07:40 load    A-1 in S-1 at 60000 rpm told 05:10   => hold A-1 speed-above-marked
  `);
});

test('a deviation for a speed reaches so far and no further, and only until the next measurement', () => {
  play(`
    07:00 build   A-1
    07:05 result  A-1 1.3 ± 0.05 g·mm
    07:20 load    A-1 in S-1 at 22000 rpm            => hold A-1 speed-above-balanced
    07:20:30 deviate A-1 "finish is good enough"     => taken A-1 speed-above-balanced
    07:21 confirm A-1 as maintenance named Ben-Invented => released A-1 speed-above-balanced by deviation
    07:30 machine S-1 programmed 21500
    07:31 machine S-1 programmed 22000
    07:32 machine S-1 programmed 23000               => hold A-1 speed-above-balanced
    07:33 void    A-1 "typed wrong"                  => void A-1 speed-above-balanced
    07:34 machine S-1 programmed 22000
  `);
});
