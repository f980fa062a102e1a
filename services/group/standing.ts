// A plant in a few numbers: what somebody who looks after several of them has to know to go to the right one.
import { PRESSING_MAX, type PlantStanding } from '../../shared/group.ts';
import { unansweredSince } from '../../shared/unanswered.ts';
import type { FloorView, Standing } from '../../shared/views.ts';

const SENTENCE_MAX = 1000;

export function standingOf({ plant, zone, now, invented, spindles, holds, intake }: FloorView): PlantStanding {
  const standing = (wanted: Standing): number => spindles.filter((row) => row.standing === wanted).length;
  const open = holds.filter((hold) => hold.open);
  const alone = open
    .filter(({ state }) => state === 'raised')
    .toSorted((a, b) => unansweredSince(a) - unansweredSince(b));
  const [oldest] = alone;
  return {
    plant,
    zone,
    now,
    invented,
    spindles: {
      all: spindles.length,
      hold: standing('hold'),
      watch: standing('watch'),
      noData: standing('no-data'),
    },
    holds: {
      open: open.length,
      alone: alone.length,
      ...(oldest === undefined ? {} : { aloneSince: unansweredSince(oldest) }),
    },
    pressing: alone.slice(0, PRESSING_MAX).map((hold) => ({
      holdId: hold.holdId,
      sentence: hold.sentence.slice(0, SENTENCE_MAX),
      // With those that went on as it: nobody has answered any of them.
      raisedAt: unansweredSince(hold),
    })),
    rejectsOpen: intake.rejectsOpen,
  };
}
