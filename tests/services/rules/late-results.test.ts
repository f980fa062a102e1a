// Results that come late, row by row: what came, in what order, what is in force, what is held, and why. U_per is 1.592 g·mm
// (ISO 21940-11: 1.2 kg, G 2.5, 18,000 rpm); which message counts where clocks disagree is common practice, no source.
import { describe, expect, test } from 'vitest';
import { expectRow, type Row } from './tabled.ts';

const CLOCK = 'this result tells an earlier time than one that came before it';
const WORSE = 'it is on record, and the other, which is worse, stands: is the clock of bench-1 set?';
const LATE = 'remark A-1: this result came after a later one; it is on record and does not replace it';

describe('a result that is proven to be an earlier one replaces nothing', () => {
  test.each<Row>([
    {
      why: 'its device numbered it lower since the same start, and it fails: no hold for what was over before the last result',
      came: `
        07:00 build  A-1 told 07:00
        09:00 result A-1 0.5 g·mm told 09:00 boot b sequence 9
        09:10 result A-1 5.0 g·mm told 08:50 boot b sequence 8   => ${LATE}`,
      inForce: ['A-1 b1 0.5 g·mm'],
      held: [],
    },
    {
      why: 'numbered lower, and it passes: what exceeded after it stays on hold',
      came: `
        07:00 build  A-1 told 07:00
        09:00 result A-1 5.0 g·mm told 09:00 boot b sequence 9   => hold A-1 residual-exceeds
        09:10 result A-1 0.5 g·mm told 08:50 boot b sequence 8   => ${LATE}`,
      inForce: ['A-1 b1 5 g·mm'],
      held: ['A-1 residual-exceeds raised'],
    },
    {
      why: 'numbered lower, and its clock says later: the number counts, not the clock',
      came: `
        07:00 build  A-1 told 07:00
        09:00 result A-1 5.0 g·mm told 09:00 boot b sequence 9   => hold A-1 residual-exceeds
        09:10 result A-1 0.5 g·mm told 09:05 boot b sequence 8   => ${LATE}`,
      inForce: ['A-1 b1 5 g·mm'],
      held: ['A-1 residual-exceeds raised'],
    },
    {
      why: 'numbered lower than one that another bench has replaced since: older than the first, so older than the second too',
      came: `
        07:00 build  A-1 told 07:00
        09:00 result A-1 0.5 g·mm told 09:00 boot b sequence 9
        09:01 result A-1 0.6 g·mm told 09:01 by bench-2
        09:02 result A-1 5.0 g·mm told 08:58 boot b sequence 8   => ${LATE}`,
      inForce: ['A-1 b1 0.6 g·mm'],
      held: [],
    },
    {
      why: 'the same the other way round: an old result that passes ends no hold because another bench measured in between',
      came: `
        07:00 build  A-1 told 07:00
        09:00 result A-1 5.0 g·mm told 09:00 boot b sequence 9   => hold A-1 residual-exceeds
        09:01 result A-1 4.9 g·mm told 09:01 by bench-2          => again A-1 residual-exceeds
        09:02 result A-1 0.5 g·mm told 08:58 boot b sequence 8   => ${LATE}`,
      inForce: ['A-1 b1 4.9 g·mm'],
      held: ['A-1 residual-exceeds raised'],
    },
    {
      why: 'a new start of the bench in between proves nothing of its own, and takes nothing from the number either',
      came: `
        07:00 build  A-1 told 07:00
        09:00 result A-1 0.5 g·mm told 09:00 boot b sequence 9
        09:20 result A-1 0.6 g·mm told 09:20 boot c sequence 1
        09:21 result A-1 5.0 g·mm told 08:58 boot b sequence 8   => ${LATE}`,
      inForce: ['A-1 b1 0.6 g·mm'],
      held: [],
    },
    {
      why: 'from a bench that was cut off while another measured anew, and it fails: shown as late',
      came: `
        07:00 build  A-1 told 07:00 by bench-2
        09:00 result A-1 0.5 g·mm told 09:00
        12:00 result A-1 5.0 g·mm told 08:00 by bench-2          => ${LATE}`,
      inForce: ['A-1 b1 0.5 g·mm'],
      held: [],
    },
    {
      why: 'from a bench that was cut off, and it passes: it ends no hold that another bench’s later result raised',
      came: `
        07:00 build  A-1 told 07:00 by bench-2
        09:00 result A-1 5.0 g·mm told 09:00                     => hold A-1 residual-exceeds
        12:00 result A-1 0.5 g·mm told 08:00 by bench-2          => ${LATE}`,
      inForce: ['A-1 b1 5 g·mm'],
      held: ['A-1 residual-exceeds raised'],
    },
    {
      why: 'within ten minutes nobody is cut off: the later arrival of two benches is in force',
      came: `
        07:00 build  A-1 told 07:00 by bench-2
        09:00 result A-1 0.5 g·mm told 09:00
        09:05 result A-1 5.0 g·mm told 08:55 by bench-2          => hold A-1 residual-exceeds`,
      inForce: ['A-1 b1 5 g·mm'],
      held: ['A-1 residual-exceeds raised'],
    },
    {
      why: 'a build of that morning, declared late by its number: the newer build stays in force, with its result',
      came: `
        07:00 build  A-1 build b2 told 07:00 boot b sequence 2
        07:01 result A-1 build b2 0.5 g·mm told 07:01 by bench-2
        07:02 build  A-1 build b3 told 07:02 by bench-2
        07:03 result A-1 build b3 0.6 g·mm told 07:03 by bench-2
        07:04 build  A-1 build b1 told 06:58 boot b sequence 1   => remark A-1: build b1 came after b3, which is newer; it is on record`,
      inForce: ['A-1 b3 0.6 g·mm'],
      held: [],
    },
    {
      why: 'a result of the build before, late: on record for that build, and the newest build is held for nothing of it',
      came: `
        07:00 build  A-1 build b1 told 07:00 boot b sequence 1
        09:00 build  A-1 build b2 told 09:00 boot b sequence 3
        09:10 result A-1 build b2 0.5 g·mm told 09:10 boot b sequence 4
        09:20 result A-1 build b1 5.0 g·mm told 07:10 boot b sequence 2   => remark A-1: build b1 was measured, but b2 is the newest`,
      inForce: ['A-1 b2 0.5 g·mm'],
      held: [],
    },
    {
      why: 'a correction that comes late by its number was done before the result: the result counts as after it',
      came: `
        07:00 build   A-1 screws at 20 mm told 07:00 boot b sequence 1
        07:10 result  A-1 5.0 g·mm told 07:10 boot b sequence 2  => hold A-1 residual-exceeds
        07:40 result  A-1 0.5 g·mm told 07:40 boot b sequence 4  => released A-1 residual-exceeds
        07:50 correct A-1 screw 90° 0.2 g told 07:30 boot b sequence 3`,
      inForce: ['A-1 b1 0.5 g·mm'],
      held: ['A-1 residual-exceeds released'],
    },
  ])('$why', (row) => void expectRow(row));
});

describe('with only clocks to go by the worse is in force', () => {
  test.each<Row>([
    {
      why: 'one that fails arrives with an earlier time: a clock set back hides no measurement that fails',
      came: `
        07:00 build  A-1 told 07:00
        09:00 result A-1 0.5 g·mm told 09:00
        09:10 result A-1 5.0 g·mm told 08:50   => remark A-1: ${CLOCK}; it counts all the same: is the clock of bench-1 set? => hold A-1 residual-exceeds`,
      inForce: ['A-1 b1 5 g·mm'],
      held: ['A-1 residual-exceeds raised'],
    },
    {
      why: 'one that passes arrives with an earlier time: it may be old, and undoes none that fails',
      came: `
        07:00 build  A-1 told 07:00
        09:00 result A-1 5.0 g·mm told 09:00   => hold A-1 residual-exceeds
        09:10 result A-1 0.5 g·mm told 08:50   => remark A-1: ${CLOCK}; ${WORSE}`,
      inForce: ['A-1 b1 5 g·mm'],
      held: ['A-1 residual-exceeds raised'],
    },
    {
      why: 'both pass: the larger one is in force',
      came: `
        07:00 build  A-1 told 07:00
        09:00 result A-1 0.9 g·mm told 09:00
        09:10 result A-1 0.5 g·mm told 08:50   => remark A-1: ${CLOCK}; ${WORSE}`,
      inForce: ['A-1 b1 0.9 g·mm'],
      held: [],
    },
    {
      why: 'both fail: the larger one is in force, and the smaller is no repeat of the hold',
      came: `
        07:00 build  A-1 told 07:00
        09:00 result A-1 5.0 g·mm told 09:00   => hold A-1 residual-exceeds
        09:10 result A-1 4.0 g·mm told 08:50   => remark A-1: ${CLOCK}; ${WORSE}`,
      inForce: ['A-1 b1 5 g·mm'],
      held: ['A-1 residual-exceeds raised'],
    },
    {
      why: 'one that passes, told after the one that fails by the same clock: nothing is in doubt between the two',
      came: `
        07:00 build  A-1 told 07:00
        09:00 result A-1 0.5 g·mm told 09:00
        09:10 result A-1 5.0 g·mm told 08:20   => hold A-1 residual-exceeds
        09:20 result A-1 0.6 g·mm told 08:30   => released A-1 residual-exceeds`,
      inForce: ['A-1 b1 0.6 g·mm'],
      held: ['A-1 residual-exceeds released'],
    },
    {
      why: 'another bench, hours behind, that was heard in time meanwhile: its clock is in doubt, not its result that fails',
      came: `
        07:00 build  A-1 told 07:00 by bench-2
        09:00 result A-1 0.5 g·mm told 09:00
        11:50 result A-2 0.5 g·mm told 11:50 by bench-2
        12:00 result A-1 5.0 g·mm told 08:00 by bench-2   => hold A-1 residual-exceeds`,
      inForce: ['A-1 b1 5 g·mm', 'A-2 b1 0.5 g·mm'],
      held: ['A-1 residual-exceeds raised'],
    },
    {
      why: 'the same bench with one that passes: it may be of this morning, and what fails stands',
      came: `
        07:00 build  A-1 told 07:00 by bench-2
        09:00 result A-1 5.0 g·mm told 09:00              => hold A-1 residual-exceeds
        11:50 result A-2 0.5 g·mm told 11:50 by bench-2
        12:00 result A-1 0.5 g·mm told 08:00 by bench-2`,
      inForce: ['A-1 b1 5 g·mm', 'A-2 b1 0.5 g·mm'],
      held: ['A-1 residual-exceeds raised'],
    },
    {
      why: 'a correction and a result that only clocks order: the result is taken for the earlier and does not count',
      came: `
        07:00 build   A-1 screws at 20 mm told 07:00
        07:10 result  A-1 5.0 g·mm told 07:10            => hold A-1 residual-exceeds
        07:30 correct A-1 screw 90° 0.2 g told 07:30
        07:40 result  A-1 0.5 g·mm told 07:20            => remark A-1: this result was measured before the last correction; it is on record and does not count
        07:50 result  A-1 0.6 g·mm told 07:50            => released A-1 residual-exceeds`,
      inForce: ['A-1 b1 0.6 g·mm'],
      held: ['A-1 residual-exceeds released'],
    },
  ])('$why', (row) => void expectRow(row));
});

test('a hold that a late message ends says how late it was', () => {
  const floor = expectRow({
    why: 'cut off for hours, what waited comes in its order',
    came: `
        07:00 build  A-1 told 07:00
        12:00 result A-1 5.0 g·mm told 08:00   => hold A-1 residual-exceeds
        12:01 result A-1 0.5 g·mm told 10:00   => released A-1 residual-exceeds`,
    inForce: ['A-1 b1 0.5 g·mm'],
    held: ['A-1 residual-exceeds released'],
  });
  const [hold] = floor.holds.values();
  expect(hold?.evidence.lateMs).toBe(4 * 3_600_000);
  expect(hold?.steps.at(-1)?.lateMs).toBe(121 * 60_000);
});
