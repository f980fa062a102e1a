// Rule (e): overall or 1× velocity over the limit in force for that spindle and speed, with persistence and hysteresis.
import type { VibrationLimit } from '../../shared/acts.ts';
import type { EntryOf } from '../../shared/entries.ts';
import type { LimitWatch } from './floor.ts';
import {
  CLEAR_SHARE,
  EVIDENCE_POSITIONS_MAX,
  PERSISTENCE_GAP_MAX_MS,
  PERSISTENCE_MS,
  PERSISTENCE_READINGS,
} from './limits.ts';
import type { Outcomes } from './raising.ts';
import type { Reading } from './reading.ts';

export function newWatch(): LimitWatch {
  return { count: 0, firstAt: 0, lastAt: 0, fired: false, positions: [] };
}

function valueOf({ quantity }: VibrationLimit, { data }: EntryOf<'summary'>): number | undefined {
  return quantity === 'overall' ? data.overallMmS : data.synchronousMmS;
}

const appliesAt = ({ fromSpeedRpm, toSpeedRpm }: VibrationLimit, speedRpm: number): boolean =>
  speedRpm >= fromSpeedRpm && speedRpm <= toSpeedRpm;

/** The watch after a reading; undefined where it does not change. Never changes the one it is given. */
function watchAfter(
  watch: LimitWatch,
  value: number,
  limit: number,
  measuredAt: number,
  position: number,
): LimitWatch | undefined {
  if (value < limit * CLEAR_SHARE) return watch.count === 0 && !watch.fired ? undefined : newWatch();
  if (value <= limit) return undefined;
  const anew = watch.count === 0 || measuredAt - watch.lastAt > PERSISTENCE_GAP_MAX_MS;
  const positions = anew ? [position] : [...watch.positions, position];
  // The first ones and the latest: how it began and where it stands.
  if (positions.length > EVIDENCE_POSITIONS_MAX) positions.splice(EVIDENCE_POSITIONS_MAX - 1, 1);
  return {
    count: anew ? 1 : watch.count + 1,
    firstAt: anew ? measuredAt : watch.firstAt,
    lastAt: Math.max(anew ? measuredAt : watch.lastAt, measuredAt),
    fired: anew ? false : watch.fired,
    positions,
  };
}

const persists = ({ count, firstAt, lastAt }: LimitWatch): boolean =>
  count >= PERSISTENCE_READINGS && lastAt - firstAt >= PERSISTENCE_MS;

export function limitRule(entry: EntryOf<'summary'>, reading: Reading, outcomes: Outcomes): void {
  const { spindle, fit, measuredAt } = reading;
  if (!fit) return;
  const limits = spindle.declaration?.limits ?? [];
  limits.forEach((limit, index) => {
    const value = valueOf(limit, entry);
    if (value === undefined || !appliesAt(limit, entry.data.speedRpm)) return;
    const watch = watchAfter(
      spindle.live.watches[index] ?? newWatch(),
      value,
      limit.limitMmS,
      measuredAt,
      entry.position,
    );
    if (watch === undefined || watch.fired || !persists(watch)) return;
    const what =
      limit.quantity === 'overall' ? 'overall vibration velocity' : 'vibration velocity at once per revolution';
    const date = limit.sourceDate === undefined ? '' : `, ${limit.sourceDate.slice(0, 10)}`;
    outcomes.raise(
      {
        subject: { kind: 'spindle', id: spindle.spindleId },
        reason: limit.quantity === 'overall' ? 'overall-over-limit' : 'synchronous-over-limit',
        evidence: {
          positions: watch.positions,
          clauses: [
            {
              what,
              measured: value,
              limit: limit.limitMmS,
              unit: 'mm/s',
              source: `${limit.source}${date}`,
              times: watch.count,
            },
          ],
          spindleId: spindle.spindleId,
          speedRpm: entry.data.speedRpm,
          ...(spindle.loaded === undefined ? {} : { assemblyId: spindle.loaded.assemblyId }),
        },
        conditions: [{ kind: 'maintenance-release', spindleId: spindle.spindleId }],
      },
      { repeats: false },
    );
  });
}

/** The fold of the same: called with the live state that may be changed. */
export function foldWatches(entry: EntryOf<'summary'>, reading: Reading): void {
  const { spindle, fit, measuredAt } = reading;
  if (!fit) return;
  const limits = spindle.declaration?.limits ?? [];
  limits.forEach((limit, index) => {
    const value = valueOf(limit, entry);
    if (value === undefined || !appliesAt(limit, entry.data.speedRpm)) return;
    const watch = watchAfter(
      spindle.live.watches[index] ?? newWatch(),
      value,
      limit.limitMmS,
      measuredAt,
      entry.position,
    );
    if (watch === undefined) return;
    spindle.live.watches[index] = persists(watch) ? { ...watch, fired: true } : watch;
  });
}
