// What the rules make of an entry, given the floor before it. The floor is only read: the entry is folded into a layer
// over it, the rules look at that layer, and what they find is returned.
import type { DeviceEntry, Entry, EntryOf } from '../../shared/entries.ts';
import type { Outcome } from '../../shared/outcomes.ts';
import { actRule } from './act-rule.ts';
import { stampOf } from './clock.ts';
import type { Floor, Stamp } from './floor.ts';
import { foldSlow } from './fold-entry.ts';
import { gateIn } from './gate.ts';
import { trialLayer, type TrialLayer } from './layer.ts';
import { SPEED_OVER_READINGS, SPEED_TOLERANCE_SHARE } from './limits.ts';
import { limitRule } from './limit-rule.ts';
import { loadRules, speedRulesFor, unloadReleases } from './pairing-rules.ts';
import { Outcomes } from './raising.ts';
import { readingOf } from './reading.ts';
import { residualRule } from './residual-rule.ts';
import { isSuperseded } from './spindle-state.ts';
import { deviceStateRule, readingStateRule, tickRule } from './state-rule.ts';

const NOTHING: readonly Outcome[] = [];

export function decide(floor: Floor, entry: Entry): readonly Outcome[] {
  switch (entry.kind) {
    case 'summary':
      return decideReading(floor, entry);
    case 'build':
    case 'result':
    case 'load':
    case 'machine':
    case 'spindle-declared':
    case 'hold-act':
      return decideSlow(floor, entry);
    case 'tick': {
      const outcomes = new Outcomes(trialLayer(floor), entry);
      tickRule(floor, entry, outcomes);
      return outcomes.list;
    }
    case 'state': {
      const outcomes = new Outcomes(trialLayer(floor), entry);
      deviceStateRule(floor, entry, outcomes);
      return outcomes.list;
    }
    case 'query': {
      const answer = gateIn(trialLayer(floor), entry.data);
      return [{ cause: entry.position, kind: 'gate-answered', answer, toDevice: entry.device }];
    }
    case 'birth':
    case 'proof':
    case 'wave':
    case 'life':
    case 'notice-try':
    case 'rejected':
    case 'retried':
      return NOTHING;
  }
}

type SlowEntry = Extract<Entry, { kind: 'build' | 'result' | 'load' | 'machine' | 'spindle-declared' | 'hold-act' }>;

function decideSlow(floor: Floor, entry: SlowEntry): readonly Outcome[] {
  const layer = trialLayer(floor);
  const outcomes = new Outcomes(layer, entry);
  const loadedBefore = entry.kind === 'load' ? placesBefore(layer, entry) : [];
  foldSlow(layer, entry, stampFor(floor, entry));
  switch (entry.kind) {
    case 'result':
      residualRule(layer, entry, outcomes);
      speedRulesOf(layer, entry.data.assemblyId, entry, outcomes);
      break;
    case 'build':
      speedRulesOf(layer, entry.data.assemblyId, entry, outcomes);
      break;
    case 'load':
      decideLoad(floor, layer, entry, loadedBefore, outcomes);
      break;
    case 'machine':
      speedRulesFor(layer, entry.data.spindleId, entry, outcomes);
      break;
    case 'hold-act':
      actRule(layer, entry, outcomes);
      break;
    case 'spindle-declared':
  }
  answerGates(layer, entry, outcomes);
  return outcomes.list;
}

function stampFor(floor: Floor, entry: SlowEntry): Stamp | undefined {
  return 'device' in entry ? stampOf(entry as DeviceEntry, floor.devices.get(entry.device)) : undefined;
}

interface Place {
  readonly spindleId: string;
  readonly assemblyId: string;
}

/** What a load message may move: what is in the spindle now, and where its assembly is now. */
function placesBefore(layer: TrialLayer, { data }: EntryOf<'load'>): readonly Place[] {
  const places: Place[] = [];
  const here = layer.spindle(data.spindleId)?.loaded?.assemblyId;
  if (here !== undefined) places.push({ spindleId: data.spindleId, assemblyId: here });
  const elsewhere = data.assemblyId === undefined ? undefined : layer.assembly(data.assemblyId)?.loadedIn;
  if (elsewhere !== undefined && elsewhere !== data.spindleId && data.assemblyId !== undefined) {
    places.push({ spindleId: elsewhere, assemblyId: data.assemblyId });
  }
  return places;
}

function decideLoad(
  floor: Floor,
  layer: TrialLayer,
  entry: EntryOf<'load'>,
  before: readonly Place[],
  outcomes: Outcomes,
): void {
  const { spindleId, assemblyId, action } = entry.data;
  const subject = { kind: 'spindle', id: spindleId } as const;
  if (isSuperseded(floor.spindles.get(spindleId), stampOf(entry, floor.devices.get(entry.device)))) {
    outcomes.remark(subject, 'this load message came after what followed it; it is on record and changes nothing');
    return;
  }
  for (const place of before) unloadReleases(place.spindleId, place.assemblyId, outcomes);
  if (action === 'unload' || assemblyId === undefined) return;
  const held = layer.openHolds({ kind: 'assembly', id: assemblyId }).map((hold) => hold.holdId);
  loadRules(layer, spindleId, entry, outcomes, held);
}

/** New knowledge of an assembly speaks at once where it is loaded. */
function speedRulesOf(layer: TrialLayer, assemblyId: string, entry: Entry, outcomes: Outcomes): void {
  const loadedIn = layer.assembly(assemblyId)?.loadedIn;
  if (loadedIn !== undefined) speedRulesFor(layer, loadedIn, entry, outcomes);
}

/** The loaded pairing of each spindle that this entry concerns is answered anew where the answer changed. */
function answerGates(layer: TrialLayer, entry: SlowEntry, outcomes: Outcomes): void {
  const concerned = new Set(layer.touchedSpindles.keys());
  for (const outcome of outcomes.list) {
    const holdId =
      outcome.kind === 'hold-raised'
        ? outcome.hold.holdId
        : outcome.kind === 'hold-stepped'
          ? outcome.holdId
          : undefined;
    const subject = holdId === undefined ? undefined : layer.hold(holdId)?.subject;
    if (subject?.kind === 'spindle') concerned.add(subject.id);
    const loadedIn = subject?.kind === 'assembly' ? layer.assembly(subject.id)?.loadedIn : undefined;
    if (loadedIn !== undefined) concerned.add(loadedIn);
  }
  for (const assemblyId of layer.touchedAssemblies.keys()) {
    const loadedIn = layer.assembly(assemblyId)?.loadedIn;
    if (loadedIn !== undefined) concerned.add(loadedIn);
  }
  for (const spindleId of concerned) {
    const spindle = layer.spindle(spindleId);
    if (spindle?.loaded === undefined) continue;
    const answer = gateIn(layer, { spindleId, assemblyId: spindle.loaded.assemblyId });
    if (JSON.stringify(answer) === JSON.stringify(spindle.gate)) continue;
    outcomes.add({ cause: entry.position, kind: 'gate-answered', answer });
  }
}

function decideReading(floor: Floor, entry: EntryOf<'summary'>): readonly Outcome[] {
  const reading = readingOf(floor, entry);
  const features: Outcome = { cause: entry.position, kind: 'reading-features', features: reading.features };
  const { spindle } = reading;
  // Nothing of these needs a look in by far the most readings; only then is a layer worth its cost.
  const isOver = reading.features.comparable && speedIsOver(entry, reading.spindle);
  const quiet =
    reading.odd === undefined &&
    !reading.same &&
    spindle.state === 'reporting' &&
    !isOver &&
    !mayExceed(entry, spindle);
  if (quiet) return [features];
  const layer = trialLayer(floor);
  const outcomes = new Outcomes(layer, entry);
  outcomes.add(features);
  readingStateRule(entry, reading, outcomes);
  limitRule(entry, reading, outcomes);
  if (isOver && spindle.live.speedOverInRow + 1 >= SPEED_OVER_READINGS) {
    speedRulesFor(layer, spindle.spindleId, entry, outcomes, entry.data.speedRpm);
  }
  if (outcomes.list.some((outcome) => outcome.kind === 'hold-raised')) answerGate(layer, entry, outcomes);
  return outcomes.list;
}

function answerGate(layer: TrialLayer, entry: EntryOf<'summary'>, outcomes: Outcomes): void {
  const spindleId = entry.data.spindleId ?? '';
  const spindle = layer.spindle(spindleId);
  if (spindle?.loaded === undefined) return;
  const answer = gateIn(layer, { spindleId, assemblyId: spindle.loaded.assemblyId });
  if (JSON.stringify(answer) !== JSON.stringify(spindle.gate))
    outcomes.add({ cause: entry.position, kind: 'gate-answered', answer });
}

/** The reading's own speed against the pairing, where the machine control says less. */
export function speedIsOver(
  { data }: EntryOf<'summary'>,
  { loaded }: { loaded: { speedBoundRpm: number } | undefined },
): boolean {
  return loaded !== undefined && data.speedRpm > loaded.speedBoundRpm * (1 + SPEED_TOLERANCE_SHARE);
}

function mayExceed(
  { data }: EntryOf<'summary'>,
  spindle: { declaration: { limits: readonly { limitMmS: number }[] } | undefined },
): boolean {
  for (const { limitMmS } of spindle.declaration?.limits ?? []) {
    if (data.overallMmS > limitMmS || (data.synchronousMmS ?? 0) > limitMmS) return true;
  }
  return false;
}
