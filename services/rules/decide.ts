// What the rules make of an entry, given the floor before it. The floor is only read: an entry that changes much is folded
// into a layer over it, the rules look at that layer, and what they find is returned.
import type { DeviceEntry, Entry, EntryOf } from '../../shared/entries.ts';
import type { Subject } from '../../shared/ids.ts';
import { say } from '../../shared/language/index.ts';
import type { Outcome } from '../../shared/outcomes.ts';
import { rfc3339Of } from '../../shared/time.ts';
import { isPlausibleTime, setBackBy } from './clock.ts';
import { decideBirth, decideCheck, decideDoubtLifted, decideTick } from './decide-bench.ts';
import {
  decideAct,
  decideBalance,
  decideCorrection,
  decideDeclared,
  decideLoad,
  decideMachine,
  decideWork,
} from './decide-slow.ts';
import { decideReading } from './decide-reading.ts';
import { askedForHolds, decideAnalysed, decideAskWave } from './decide-window.ts';
import type { DeviceState, Floor } from './floor.ts';
import { gate } from './gate.ts';
import { trialLayer } from './layer.ts';
import { decideUnexplained, spindleToWeigh } from './relating/index.ts';
import { withOverride } from './override-watch.ts';
import { spanWords } from '../../shared/wording.ts';
import { deviceStateRule } from './state-rule.ts';
import { begin } from './work.ts';

const NOTHING: readonly Outcome[] = [];

/** Pure: the floor is not changed. `evolve` takes the entry and these outcomes into the floor. */
export function decide(floor: Floor, entry: Entry): readonly Outcome[] {
  if (entry.kind === 'summary') return decideSummary(floor, entry);
  const outcomes = withOverride(
    floor,
    entry,
    withAsked(floor, entry, withUnexplained(floor, entry, decided(floor, entry))),
  );
  const remark =
    'device' in entry && entry.kind !== 'rejected' && entry.kind !== 'analysed'
      ? clockRemark(floor, entry, floor.devices.get(entry.device))
      : undefined;
  return remark === undefined ? outcomes : [...outcomes, remark];
}

/** Most of what comes: its lane and its spindle are looked up once, and what only other entries can bring is not asked for. */
function decideSummary(floor: Floor, entry: EntryOf<'summary'>): readonly Outcome[] {
  const { spindleId } = entry.data;
  const lane = floor.devices.get(entry.device);
  const spindle = spindleId === undefined ? undefined : floor.spindles.get(spindleId);
  const own = decideReading(floor, entry, spindle, lane);
  const all = withUnexplained(floor, entry, own);
  // A reading's features alone ask for nothing.
  const outcomes = all.length > 1 ? withAsked(floor, entry, all) : all;
  const remark = clockRemark(floor, entry, lane);
  return remark === undefined ? outcomes : [...outcomes, remark];
}

/** What the vibration of a load is worth is looked at now and then: at most readings nothing is done here. */
function withUnexplained(floor: Floor, entry: Entry, made: readonly Outcome[]): readonly Outcome[] {
  const spindleId = spindleToWeigh(floor, entry);
  if (spindleId === undefined) return made;
  const layer = entry.kind === 'summary' ? trialLayer(floor) : begin(floor, entry).layer;
  return decideUnexplained(floor, entry, made, { layer, spindleId });
}

function withAsked(floor: Floor, entry: Entry, outcomes: readonly Outcome[]): readonly Outcome[] {
  const asked = outcomes.length === 0 ? undefined : askedForHolds(floor, entry, outcomes);
  return asked === undefined ? outcomes : [...outcomes, asked];
}

function decided(floor: Floor, entry: Exclude<Entry, EntryOf<'summary'>>): readonly Outcome[] {
  switch (entry.kind) {
    case 'machine':
      return decideMachine(floor, entry);
    case 'build':
    case 'result':
      return decideBalance(floor, entry);
    case 'load':
      return decideLoad(floor, entry);
    case 'spindle-declared':
      return decideDeclared(floor, entry);
    case 'hold-act':
      return decideAct(floor, entry);
    case 'tick':
      return decideTick(floor, entry);
    case 'state':
      return deviceStateRule(floor, entry);
    case 'query':
      return [
        { cause: entry.position, kind: 'gate-answered', answer: gate(floor, entry.data), toDevice: entry.device },
      ];
    case 'correction':
    case 'correction-recorded':
      return decideCorrection(floor, entry);
    case 'proof':
    case 'test':
      return decideCheck(floor, entry);
    case 'birth':
      return decideBirth(floor, entry);
    case 'doubt-lifted':
      return decideDoubtLifted(floor, entry);
    case 'work-planned':
      return decideWork(floor, entry);
    case 'answering-declared':
    case 'rates-declared':
    case 'wave':
    case 'life':
    case 'reference-declared':
    case 'rules-declared':
    case 'notice-try':
    case 'rejected':
    case 'retried':
      return NOTHING;
    case 'analysed':
      return decideAnalysed(floor, entry);
    case 'ask-wave':
      return decideAskWave(floor, entry);
  }
}

/** A clock that nobody set, or that was set back, is said once, not with every message. */
function clockRemark(floor: Floor, entry: DeviceEntry, lane: DeviceState | undefined): Outcome | undefined {
  const { time, at, device, position } = entry;
  if (time === undefined) return undefined;
  const backMs = setBackBy(lane, at, time);
  if (backMs === undefined && (isPlausibleTime(time, at) || lane?.clockOdd === true)) return undefined;
  const remark =
    backMs === undefined
      ? say`the clock of ${device} is not set: it says ${rfc3339Of(time)}; its times are not used`
      : say`the clock of ${device} was set back by ${spanWords(backMs)}: what it told since was taken for old; from now on it counts by the new setting`;
  return { cause: position, kind: 'remarked', subject: subjectOf(floor, entry), remark };
}

function subjectOf(floor: Floor, entry: DeviceEntry): Subject {
  switch (entry.kind) {
    case 'summary':
    case 'wave':
    case 'machine':
    case 'load':
    case 'life':
      if (entry.data.spindleId !== undefined) return { kind: 'spindle', id: entry.data.spindleId };
      break;
    case 'build':
    case 'result':
    case 'correction':
    case 'proof':
    case 'test':
      return { kind: 'bench', id: entry.device };
    case 'birth':
    case 'state':
    case 'query':
  }
  return { kind: 'plant', id: floor.plant };
}
