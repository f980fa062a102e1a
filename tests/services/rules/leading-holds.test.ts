// A hold that stands under another, and one that has moved to another, row by row: what came after the other had ended, and what is
// held then. U_per is 1.592 g·mm (ISO 21940-11: 1.2 kg, G 2.5, 18,000 rpm), and with G 40 it is 25.5 g·mm.
import { describe, expect, test } from 'vitest';
import { decide } from '../../../services/rules/index.ts';
import type { Entry } from '../../../shared/entries.ts';
import { LEARNED, MOVED } from './learned-story.ts';
import { expectRow, type Row } from './tabled.ts';

const HELD = `
        06:05 build   A-1 screws at 20 mm
        06:10 result  A-1 5.0 g·mm                => hold A-1 residual-exceeds
        06:30 load    A-1 in S-1 at 18000 rpm     => hold S-1 held-assembly-loaded`;

describe('a spindle is on hold for the assembly in it: what ends the one ends the other, and nothing else of it stays', () => {
  test.each<Row>([
    {
      why: 'measured and within: both end with the same result',
      came: `${HELD}
        07:00 result  A-1 0.5 g·mm                => released A-1 residual-exceeds => released S-1 held-assembly-loaded`,
      inForce: ['A-1 b1 0.5 g·mm'],
      held: ['A-1 residual-exceeds released', 'S-1 held-assembly-loaded released'],
    },
    {
      why: 'after both have ended an old result that failed comes late: neither begins anew',
      came: `
        06:05 build   A-1 told 06:05 boot b sequence 1
        06:10 result  A-1 5.0 g·mm told 06:10 boot b sequence 2  => hold A-1 residual-exceeds
        06:30 load    A-1 in S-1 at 18000 rpm                    => hold S-1 held-assembly-loaded
        07:00 result  A-1 0.5 g·mm told 07:00 boot b sequence 4  => released A-1 residual-exceeds => released S-1 held-assembly-loaded
        07:10 result  A-1 5.0 g·mm told 06:50 boot b sequence 3`,
      inForce: ['A-1 b1 0.5 g·mm'],
      held: ['A-1 residual-exceeds released', 'S-1 held-assembly-loaded released'],
    },
    {
      why: 'raised in error: its result counts no longer, the spindle is free of it, and the gate asks for a measurement',
      came: `${HELD}
        07:00 void    A-1 "another assembly was on the bench" => void A-1 residual-exceeds => released S-1 held-assembly-loaded => gate A-1 in S-1: MEASURE FIRST, not-measured-since-build`,
      inForce: ['A-1 none'],
      held: ['A-1 residual-exceeds void', 'S-1 held-assembly-loaded released'],
    },
    {
      why: 'let go on by one name: nothing ends yet; by the second: both',
      came: `${HELD}
        07:00 deviate A-1 "last part of the lot"  => taken A-1 residual-exceeds
        07:10 confirm A-1 named Ben-Invented "roughing only" => released A-1 residual-exceeds by deviation => released S-1 held-assembly-loaded`,
      inForce: ['A-1 b1 5 g·mm'],
      held: ['A-1 residual-exceeds released', 'S-1 held-assembly-loaded released'],
    },
    {
      why: 'both ended by deviation, and a new measurement exceeds: the deviation was for the one before, so both are held anew',
      came: `${HELD}
        07:00 deviate A-1 "last part of the lot"  => taken A-1 residual-exceeds
        07:10 confirm A-1 named Ben-Invented "roughing only" => released A-1 residual-exceeds by deviation => released S-1 held-assembly-loaded
        08:00 result  A-1 5.1 g·mm                => hold A-1 residual-exceeds => hold S-1 held-assembly-loaded`,
      inForce: ['A-1 b1 5.1 g·mm'],
      held: [
        'A-1 residual-exceeds released',
        'S-1 held-assembly-loaded released',
        'A-1 residual-exceeds raised',
        'S-1 held-assembly-loaded raised',
      ],
    },
    {
      why: 'taken out: the spindle is free, the assembly is not; the next spindle is held for it, and the first stays free',
      came: `${HELD}
        07:00 unload  S-1 A-1                     => released S-1 held-assembly-loaded
        07:10 load    A-1 in S-2 at 18000 rpm     => hold S-2 held-assembly-loaded
        07:20 result  A-1 0.5 g·mm                => released A-1 residual-exceeds => released S-2 held-assembly-loaded`,
      inForce: ['A-1 b1 0.5 g·mm'],
      held: ['A-1 residual-exceeds released', 'S-1 held-assembly-loaded released', 'S-2 held-assembly-loaded released'],
    },
    {
      why: 'the spindle alone was let go on, for that load: clamped again it is held again, as long as the assembly is',
      came: `${HELD}
        07:00 answering one name
        07:10 deviate S-1 "to the end of this part" => released S-1 held-assembly-loaded by deviation
        07:20 load    A-1 in S-1 at 18000 rpm     => hold S-1 held-assembly-loaded`,
      inForce: ['A-1 b1 5 g·mm'],
      held: ['A-1 residual-exceeds raised', 'S-1 held-assembly-loaded released', 'S-1 held-assembly-loaded raised'],
    },
    {
      why: 'corrected where it runs: it is unmeasured besides, and the result of after the correction ends all three',
      came: `${HELD}
        07:00 correct A-1 screw 90° 0.2 g         => hold A-1 not-measured-since-build
        07:10 result  A-1 0.5 g·mm                => released A-1 residual-exceeds => released A-1 not-measured-since-build => released S-1 held-assembly-loaded`,
      inForce: ['A-1 b1 0.5 g·mm'],
      held: [
        'A-1 residual-exceeds released',
        'S-1 held-assembly-loaded released',
        'A-1 not-measured-since-build released',
      ],
    },
  ])('$why', (row) => void expectRow(row));
});

const LIMITED = `
        06:00 limit   S-1 overall 4.5 from 1000 to 24000 and 1x 2.8 from 1000 to 24000
        06:05 build   A-1
        06:10 result  A-1 0.5 g·mm
        06:30 load    A-1 in S-1 at 18000 rpm
        07:00 reading S-1 overall 5 1x 4.5 ×6 every 20 s   => hold S-1 synchronous-over-limit => again S-1 synchronous-over-limit`;

describe('an overall excess is listed under the hold for the 1× part that makes it', () => {
  test.each<Row>([
    {
      why: 'released and verified: both limits are watched anew, and an overall excess of another kind is held by itself',
      came: `${LIMITED}
        07:30 release S-1 "balance ring reset" as maintenance => checked S-1 synchronous-over-limit
        07:40 load    A-1 in S-1 at 18000 rpm
        07:41 reading S-1 overall 2 1x 1 ×10 every 40 s    => released S-1 synchronous-over-limit
        08:00 reading S-1 overall 5 1x 1 ×6 every 20 s     => hold S-1 overall-over-limit`,
      inForce: ['A-1 b1 0.5 g·mm'],
      held: ['S-1 synchronous-over-limit released', 'S-1 overall-over-limit raised'],
    },
    {
      why: 'let go on: so is what was listed in it, until it was below the limit once',
      came: `${LIMITED}
        07:05 answering one name
        07:10 deviate S-1 "one more part"                  => released S-1 synchronous-over-limit by deviation
        07:20 reading S-1 overall 5 1x 1 ×6 every 20 s
        07:30 reading S-1 overall 1 1x 1 ×6 every 20 s
        07:40 reading S-1 overall 5 1x 1 ×6 every 20 s     => hold S-1 overall-over-limit`,
      inForce: ['A-1 b1 0.5 g·mm'],
      held: ['S-1 synchronous-over-limit released', 'S-1 overall-over-limit raised'],
    },
  ])('$why', (row) => void expectRow(row));
});

/** A-1 shows 0.97 where 0.42 is usual; and then 1.43, which is over 1.2. */
const TAKEN_OVER = `${LEARNED}
        day 2 06:00 load    A-1 in S-1 at 18000 rpm
        day 2 06:02 reading S-1 overall 1.20 1x 0.97 ×6 every 3 min
        day 2 06:30 load    A-2 in S-2 at 18000 rpm
        day 2 06:32 reading S-2 overall 0.94 1x 0.62 ×6 every 3 min
        day 2 07:00 load    A-1 in S-1 at 18000 rpm
        day 2 07:02 reading S-1 overall 1.59 1x 1.43 ×6 every 3 min => hold S-1 vibration-unexplained => hold S-1 synchronous-over-limit => released S-1 vibration-unexplained`;

const ALL = ['A-1 b1 1 g·mm', 'A-2 b1 2 g·mm', 'A-3 b1 3 g·mm'];

describe('a hold that has moved to another stays ended, whatever is told again', () => {
  test.each<Row>([
    {
      why: 'taken over by the limit, and its last reading is sent again: nothing beside the hold for the limit',
      came: `${TAKEN_OVER}
        day 2 07:18 reading S-1 overall 1.59 1x 1.43 ×3 every 1 s`,
      inForce: ALL,
      held: ['S-1 vibration-unexplained released', 'S-1 synchronous-over-limit raised'],
    },
    {
      why: 'taken over by the limit, and the load is told again with all that it showed: still one hold for one cause',
      came: `${TAKEN_OVER}
        day 2 07:30 load    A-1 in S-1 at 18000 rpm
        day 2 07:32 reading S-1 overall 1.59 1x 1.43 ×6 every 3 min`,
      inForce: ALL,
      held: ['S-1 vibration-unexplained released', 'S-1 synchronous-over-limit raised'],
    },
    {
      why: 'the limit’s hold has ended with a run, and the first does not come back with it',
      came: `${TAKEN_OVER}
        day 2 07:40 release S-1 "drawbar spring changed" as maintenance => checked S-1 synchronous-over-limit
        day 2 08:00 load    A-2 in S-1 at 18000 rpm
        day 2 08:02 reading S-1 overall 0.92 1x 0.60 ×10 every 40 s => released S-1 synchronous-over-limit
        day 2 08:30 load    A-3 in S-1 at 18000 rpm
        day 2 08:32 reading S-1 overall 1.10 1x 0.85 ×6 every 3 min`,
      inForce: ALL,
      held: ['S-1 vibration-unexplained released', 'S-1 synchronous-over-limit released'],
    },
    {
      why: 'moved to the assembly, and the load in the first spindle is told again with what it showed: the spindle stays free',
      came: `${MOVED}
        day 2 07:30 load    A-1 in S-1 at 18000 rpm
        day 2 07:32 reading S-1 overall 2.74 1x 2.65 ×6 every 3 min`,
      inForce: ALL,
      held: ['S-1 vibration-unexplained released', 'A-1 vibration-unexplained raised'],
    },
    {
      why: 'moved to the assembly: its passing result ends that hold, and told twice it changes nothing more',
      came: `${MOVED}
        day 2 08:00 result  A-1 1 g·mm                              => released A-1 vibration-unexplained
        day 2 08:01 result  A-1 1 g·mm`,
      inForce: ALL,
      held: ['S-1 vibration-unexplained released', 'A-1 vibration-unexplained released'],
    },
  ])('$why', (row) => {
    const { holds } = expectRow(row);
    const [first, second] = holds.values();
    expect(first?.steps.at(-1)?.movedTo).toBe(second?.holdId);
    expect(first?.steps.filter(({ state }) => state === 'released')).toHaveLength(1);
  });

  test('a person who still has the first before the eyes is told that it has ended, and changes nothing', () => {
    const floor = expectRow({
      why: 'an act on a hold that has moved',
      came: MOVED,
      inForce: ALL,
      held: ['S-1 vibration-unexplained released', 'A-1 vibration-unexplained raised'],
    });
    const [first] = floor.holds.values();
    const act: Entry = {
      kind: 'hold-act',
      position: floor.position + 1,
      at: floor.at + 1,
      id: 'act-late',
      actor: { name: 'Ada-Invented', roles: ['engineer'] },
      data: { act: 'void', holdId: first?.holdId ?? '', note: 'seen on an old page' },
    };
    expect(decide(floor, act)).toEqual([
      {
        cause: act.position,
        kind: 'act-refused',
        holdId: first?.holdId,
        act: 'void',
        why: 'the hold has ended already: released',
      },
    ]);
  });
});
