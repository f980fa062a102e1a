// A bench that was doubted, after its doubt has ended, row by row. The proving rotor is to read 50 g·mm at 0° within 2 g·mm, as a
// vector (ISO 21940-21).
import { describe, test } from 'vitest';
import { expectRow, type Row } from './tabled.ts';

const GOOD = 'reads 50.4 at 1° expected 50 ± 2';
const OFF = 'reads 50 at 12° expected 50 ± 2';

describe('a bench that was doubted, after its doubt has ended', () => {
  test.each<Row>([
    {
      why: 'what it measured while it was doubted stays in doubt until the assembly is measured again',
      came: `
        06:00 declare S-1
        06:05 build   A-1
        06:06 build   A-2
        06:20 proof   ${OFF}                 => hold bench-1 bench-in-doubt
        06:30 result  A-1 0.5 g·mm
        06:31 result  A-2 0.5 g·mm
        06:40 proof   ${GOOD}                => released bench-1 bench-in-doubt
        06:50 result  A-2 0.6 g·mm
        06:55 ask     A-1 in S-1             => gate A-1 in S-1: MEASURE FIRST, measurement-in-doubt
        06:56 ask     A-2 in S-1             => gate A-2 in S-1: NO OBJECTION, within`,
      inForce: ['A-1 b1 0.5 g·mm, in doubt', 'A-2 b1 0.6 g·mm'],
      held: ['bench-1 bench-in-doubt released'],
    },
    {
      why: 'measured while it was doubted and told after, by its number: it ends no hold',
      came: `
        06:05 build   A-1 told 06:05 boot b sequence 1
        06:10 result  A-1 4 g·mm told 06:10 boot b sequence 2    => hold A-1 residual-exceeds
        06:20 proof   ${OFF} told 06:20 boot b sequence 3        => hold bench-1 bench-in-doubt
        06:40 proof   ${GOOD} told 06:40 boot b sequence 5       => released bench-1 bench-in-doubt
        06:50 result  A-1 0.5 g·mm told 06:30 boot b sequence 4`,
      inForce: ['A-1 b1 0.5 g·mm, in doubt'],
      held: ['A-1 residual-exceeds raised', 'bench-1 bench-in-doubt released'],
    },
    {
      why: 'only its clock says that it was measured before the check passed: in doubt all the same',
      came: `
        06:05 build   A-1 told 06:05
        06:10 result  A-1 4 g·mm told 06:10                      => hold A-1 residual-exceeds
        06:20 proof   ${OFF} told 06:20                          => hold bench-1 bench-in-doubt
        06:40 proof   ${GOOD} told 06:40                         => released bench-1 bench-in-doubt
        06:50 result  A-1 0.5 g·mm told 06:35`,
      inForce: ['A-1 b1 0.5 g·mm, in doubt'],
      held: ['A-1 residual-exceeds raised', 'bench-1 bench-in-doubt released'],
    },
    {
      why: 'it exceeds and is in doubt: held all the same, and only one that is to be believed ends it',
      came: `
        06:05 build   A-1
        06:20 proof   ${OFF}                 => hold bench-1 bench-in-doubt
        06:30 result  A-1 4 g·mm             => hold A-1 residual-exceeds
        06:40 proof   ${GOOD}                => released bench-1 bench-in-doubt
        06:50 result  A-1 0.5 g·mm           => released A-1 residual-exceeds`,
      inForce: ['A-1 b1 0.5 g·mm'],
      held: ['bench-1 bench-in-doubt released', 'A-1 residual-exceeds released'],
    },
    {
      why: 'comes while it is doubted, though measured before its last good check: in doubt, for measuring again costs less than believing',
      came: `
        06:00 build   A-1 told 06:00 boot b sequence 1
        06:20 proof   ${GOOD} told 06:20 boot b sequence 3
        06:40 proof   ${OFF} told 06:40 boot b sequence 4        => hold bench-1 bench-in-doubt
        06:45 result  A-1 0.5 g·mm told 06:10 boot b sequence 2`,
      inForce: ['A-1 b1 0.5 g·mm, in doubt'],
      held: ['bench-1 bench-in-doubt raised'],
    },
    {
      why: 'the check misses once more: results since the good one are marked, and the bench is held anew',
      came: `
        06:05 build   A-1
        06:06 build   A-2
        06:20 proof   ${OFF}                 => hold bench-1 bench-in-doubt
        06:40 proof   ${GOOD}                => released bench-1 bench-in-doubt
        06:50 result  A-1 0.5 g·mm
        07:00 proof   ${GOOD}
        07:10 result  A-2 0.5 g·mm
        07:20 proof   ${OFF}                 => hold bench-1 bench-in-doubt`,
      inForce: ['A-1 b1 0.5 g·mm', 'A-2 b1 0.5 g·mm, in doubt'],
      held: ['bench-1 bench-in-doubt released', 'bench-1 bench-in-doubt raised'],
    },
    {
      why: 'a check of before the one that passed comes late, and it misses: that was mended since',
      came: `
        06:20 proof   ${OFF} told 06:20 boot b sequence 3        => hold bench-1 bench-in-doubt
        06:40 proof   ${GOOD} told 06:40 boot b sequence 5       => released bench-1 bench-in-doubt
        06:50 proof   ${OFF} told 06:30 boot b sequence 4`,
      inForce: [],
      held: ['bench-1 bench-in-doubt released'],
    },
    {
      why: 'two kinds of check missed and one passed: the doubt and the hold go on',
      came: `
        06:05 build   A-1
        06:20 test    T-1 fails              => hold bench-1 bench-in-doubt
        06:25 proof   ${OFF}                 => again bench-1 bench-in-doubt
        06:30 proof   ${GOOD}
        06:40 result  A-1 0.5 g·mm
        06:50 test    T-2 passes             => released bench-1 bench-in-doubt`,
      inForce: ['A-1 b1 0.5 g·mm, in doubt'],
      held: ['bench-1 bench-in-doubt released'],
    },
    {
      why: 'a person lifts the doubt: what it measured meanwhile counts, and what comes late of that time too',
      came: `
        06:05 build   A-1 told 06:05 boot b sequence 1
        06:10 result  A-1 4 g·mm told 06:10 boot b sequence 2    => hold A-1 residual-exceeds
        06:20 proof   ${OFF} told 06:20 boot b sequence 3        => hold bench-1 bench-in-doubt
        06:40 lift    bench-1 "the rotor was dirty"              => released bench-1 bench-in-doubt by deviation
        06:50 result  A-1 0.5 g·mm told 06:30 boot b sequence 4  => released A-1 residual-exceeds`,
      inForce: ['A-1 b1 0.5 g·mm'],
      held: ['A-1 residual-exceeds released', 'bench-1 bench-in-doubt released'],
    },
  ])('$why', (row) => void expectRow(row));
});
