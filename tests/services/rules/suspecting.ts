// A hold whose causes were weighed: as many probabilities as a test gives, whatever was seen.
import type { CauseFinding } from '../../../shared/causes.ts';
import type { Hold } from '../../../shared/holds.ts';

/** An assembly in a spindle that was put on hold for its limit, as a story. */
export const HELD_WITH_A_1 = `
    06:00 limit   S-1 overall 4.5 from 1000 to 24000
    06:01 build   A-1
    06:02 result  A-1 0.3 g·mm
    06:03 load    A-1 in S-1 at 18000 rpm
    07:00 reading S-1 overall 5 ×6 every 20 s        => hold S-1 overall-over-limit
`;

export const findingFor = (
  hold: Pick<Hold, 'raisedAt' | 'steps'>,
  shares: CauseFinding['shares'],
  named?: CauseFinding['named'],
): CauseFinding => ({
  at: hold.raisedAt,
  position: hold.steps[0]?.cause ?? 0,
  spindleId: 'S-1',
  speedRpm: 18_000,
  observedMmS: 3,
  loads: 40,
  shares,
  unknown: 1 - shares.reduce((sum, { probability }) => sum + probability, 0),
  ...(named === undefined ? {} : { named }),
  ruledOut: [],
  experiments: [],
});
