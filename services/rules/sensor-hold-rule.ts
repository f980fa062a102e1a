// Rule (i): a sensor that has told what cannot be true for long enough puts its spindle on hold as one that cannot be judged.
import type { EntryOf } from '../../shared/entries.ts';
import { say } from '../../shared/language/index.ts';
import type { Outcome, SubjectState } from '../../shared/outcomes.ts';
import type { SensorDoubt, SpindleState } from './floor.ts';
import { EVIDENCE_POSITIONS_MAX, SENSOR_DOUBT_MS, SENSOR_DOUBT_READINGS } from './limits.ts';
import type { Outcomes } from './raising.ts';
import { signalCounts } from './signal.ts';

type Summary = EntryOf<'summary'>;

/** Of a device that is cut off nothing is known; that is a state and no doubt about its signal. */
export const isDisbelieved = (state: SubjectState): boolean => state === 'implausible' || state === 'stuck';

/** The state that a reading leaves behind, by what was recorded of it. */
export function stateWith({ state }: SpindleState, outcomes: readonly Outcome[]): SubjectState {
  if (outcomes.length < 2) return state;
  const changed = outcomes.find((outcome) => outcome.kind === 'state-changed');
  return changed?.kind === 'state-changed' ? changed.state : state;
}

/** Itself odd or the same again: others that come in this state say nothing of the doubt, for they could not have shown it. */
function isDoubtful(spindle: SpindleState, { data }: Summary): boolean {
  const { odd, sameInRow } = signalCounts(spindle, data);
  return odd !== undefined || sameInRow > 0;
}

/** Whether the doubt goes on from the reading before: not over a time in which nothing was heard. */
function goingOn({ state, live }: SpindleState, sensor: string): SensorDoubt | undefined {
  return isDisbelieved(state) && live.heardFrom === sensor ? live.doubt : undefined;
}

/** Takes a reading into the doubt about its sensor; `after` is the state that it leaves behind. */
export function foldDoubt(spindle: SpindleState, entry: Summary, after: SubjectState): void {
  const { live } = spindle;
  const { at, position, device } = entry;
  if (!isDisbelieved(after)) {
    if (live.doubt !== undefined) live.doubt = undefined;
    return;
  }
  const doubt = goingOn(spindle, device);
  if (doubt !== undefined && !isDoubtful(spindle, entry)) return;
  if (doubt === undefined) {
    live.doubt = { since: at, readings: 1, positions: [position], fired: false };
    return;
  }
  doubt.readings += 1;
  // The first ones show how it began; of the others the latest is kept.
  if (doubt.positions.length === EVIDENCE_POSITIONS_MAX) doubt.positions.pop();
  doubt.positions.push(position);
}

/** Whether this reading makes it long enough; the readings before it have been folded. */
export function sensorDoubted(spindle: SpindleState, entry: Summary, after: SubjectState): boolean {
  const { at, device } = entry;
  const doubt = isDisbelieved(after) ? goingOn(spindle, device) : undefined;
  if (doubt === undefined || doubt.fired || !isDoubtful(spindle, entry)) return false;
  return doubt.readings + 1 >= SENSOR_DOUBT_READINGS && at - doubt.since >= SENSOR_DOUBT_MS;
}

/** Raises the hold, with the readings as evidence. */
export function sensorHoldRule(outcomes: Outcomes, spindle: SpindleState, entry: Summary, why: string): void {
  const { spindleId, live, loaded } = spindle;
  const { readings = 0, positions = [] } = live.doubt ?? {};
  outcomes.raise(
    {
      subject: { kind: 'spindle', id: spindleId },
      reason: 'sensor-cannot-judge',
      evidence: {
        positions: [...positions.slice(0, EVIDENCE_POSITIONS_MAX - 1), entry.position],
        clauses: [
          {
            what: say`readings that cannot be believed: ${why}`,
            measured: readings + 1,
            limit: SENSOR_DOUBT_READINGS,
            unit: '1',
            source: say`common practice, no source: so many readings over so long a time are no passing fault`,
            times: readings + 1,
          },
        ],
        spindleId,
        device: entry.device,
        speedRpm: entry.data.speedRpm,
        ...(loaded === undefined ? {} : { assemblyId: loaded.assemblyId }),
      },
      conditions: [{ kind: 'sensor-sound', spindleId }],
    },
    { repeats: false },
  );
}
