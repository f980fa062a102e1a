// A deviation wants two names: one person alone lets no hold go on, unless the plant has declared that one is enough.
import { expect, test } from 'vitest';
import { play } from './play.ts';

const HELD = `
    06:05 build   A-1
    06:10 result  A-1 4 g·mm                                  => hold A-1 residual-exceeds`;

test('asked for by one, confirmed by another: released by deviation, with both names', () => {
  const { floor } = play(`${HELD}
    06:20 confirm A-1 named Ben-Invented                      => refused: confirming a deviation is not possible once it is raised; …
    06:30 deviate A-1 "last part of the lot"                  => taken A-1 residual-exceeds
    06:31 confirm A-1                                         => refused: another person than Ada-Invented confirms it
    06:32 confirm A-1 as operator named Cas-Invented          => refused: confirming a deviation needs one of the roles …
    06:40 confirm A-1 as maintenance named Ben-Invented "roughing only"   => released A-1 residual-exceeds by deviation
  `);
  const [hold] = floor.holds.values();
  expect(hold?.steps.at(-1)).toMatchObject({
    by: 'Ben-Invented',
    askedBy: 'Ada-Invented',
    deviation: true,
    note: 'last part of the lot; roughing only',
  });
  expect(floor.assemblies.get('A-1')?.deviation?.by).toBe('Ada-Invented and Ben-Invented');
});

test('nothing of it counts before the second name, and a wish that nobody confirms is told to the next ones', () => {
  play(`${HELD}
    06:30 deviate A-1 "last part of the lot"                  => taken A-1 residual-exceeds
    06:35 ask     A-1 in S-1                                  => gate A-1 in S-1: HOLD BACK, unknown-spindle
    07:00 load    A-1 in S-1 at 18000 rpm                     => hold S-1 held-assembly-loaded
    09:01 tick                                                => told A-1 level 1, this-shift, maintenance tool-room => told S-1 level 1, this-shift, maintenance tool-room
  `);
});

test('where nobody asked there is nothing to confirm; the marks on the parts govern whatever the names', () => {
  play(`
    06:05 build   A-1 marked 12000
    06:10 result  A-1 0.1 g·mm
    06:30 load    A-1 in S-1 at 18000 rpm                     => hold A-1 speed-above-marked
    06:31 take    A-1 as tool-room                            => taken A-1 speed-above-marked
    06:32 confirm A-1 named Ben-Invented                      => refused: nobody has asked for a deviation of this hold
    06:33 deviate A-1 "customer waits"                        => refused: the lowest marked maximum …
  `);
});

test('one name is enough where the plant has declared it', () => {
  play(`
    06:00 answering one name, after 60 to engineer${HELD}
    06:30 deviate A-1 "last part of the lot"                  => released A-1 residual-exceeds by deviation
  `);
});

test('a bench that is let go on, or held in error, lends its results again', () => {
  play(`
    06:05 build   A-1
    06:10 result  A-1 4 g·mm                                  => hold A-1 residual-exceeds
    06:20 proof   reads 50 at 12° expected 50 ± 2             => hold bench-1 bench-in-doubt
    06:30 result  A-1 0.5 g·mm
    06:40 release bench-1 "it is right" as engineer              => refused: none of its conditions has come about; …
    06:41 deviate bench-1 "the rotor was dirty"               => taken bench-1 bench-in-doubt
    06:42 confirm bench-1 named Ben-Invented                  => released bench-1 bench-in-doubt by deviation => released A-1 residual-exceeds
    06:50 tick
  `);
});
