// The folds of raw windows: that one came, what was made of it, that one was asked for. Bounded per spindle.
import { deviceTimeOf } from '../../shared/device-time.ts';
import type { AnalysedEntry, EntryOf } from '../../shared/entries.ts';
import type { Outcome } from '../../shared/outcomes.ts';
import { median } from '../../shared/statistics/index.ts';
import type { Instant } from '../../shared/time.ts';
import type { BearingFinding, HealthFinding, WaveAnalysis } from '../../shared/wave-analysis.ts';
import type { Floor } from './floor.ts';
import { ringsOnly, spectrumBegan, spectrumRinging, spectrumWith } from './usual-spectrum.ts';
import type { ChannelState, SpeakingState, UsualAcceleration, WindowAsked, WindowState } from './window-facts.ts';
import {
  CHANNELS_PER_SPINDLE_MAX,
  SILENT_WINDOWS,
  SPEAKING_PER_CHANNEL_MAX,
  SPEAKING_WINDOWS,
  USUAL_ANEW_WINDOWS,
  USUAL_ANEW_WITHIN,
  USUAL_SPEED_STEP,
  USUAL_SPEEDS_MAX,
  USUAL_WINDOWS_MAX,
  USUAL_WINDOWS_MIN,
} from './window-limits.ts';

/** A window came: who is asked for the next one, and whether it answers a question. */
export function foldWave(floor: Floor, { position, at, time, device, data }: EntryOf<'wave'>): void {
  const { spindleId, channel, asked } = data;
  if (spindleId === undefined) return;
  const before = floor.windows.get(spindleId);
  const measuredAt = deviceTimeOf(at, time);
  floor.windows.set(spindleId, {
    device,
    wave: position,
    at: measuredAt,
    channel,
    asked: isAnswer(before?.asked, asked, measuredAt) ? undefined : before?.asked,
    channels: before?.channels ?? [],
  });
}

/** One that names the question, or one that names none and was measured after it: it serves as well. */
function isAnswer(question: WindowAsked | undefined, named: string | undefined, measuredAt: Instant): boolean {
  if (question === undefined) return true;
  return named === undefined ? measuredAt >= question.at : named === question.id;
}

/** What was made of a window; of an older one than is known of its channel nothing is taken. */
export function foldAnalysed(floor: Floor, entry: AnalysedEntry): void {
  const { spindleId, channel, device, outcome, wave } = entry;
  if (outcome.kind !== 'analysed') return;
  const state = floor.windows.get(spindleId) ?? newWindows(entry, device);
  const before = state.channels.find((one) => one.channel === channel);
  if (before !== undefined && before.wave > wave) return;
  const others = state.channels.filter((one) => one !== before);
  const channels = [...others, channelAfter(before, entry, outcome.analysis)].slice(-CHANNELS_PER_SPINDLE_MAX);
  floor.windows.set(spindleId, { ...state, channels });
}

function newWindows({ wave, measuredAt, channel }: AnalysedEntry, device: string): WindowState {
  return { device, wave, at: measuredAt, channel, asked: undefined, channels: [] };
}

export function foldAsked(floor: Floor, asked: Extract<Outcome, { kind: 'wave-asked' }>): void {
  const state = floor.windows.get(asked.spindleId);
  if (state === undefined) return;
  const { id, by } = asked;
  floor.windows.set(asked.spindleId, { ...state, asked: { id, at: floor.at, by } });
}

/** What the channel's windows say with this one. */
export function channelAfter(
  before: ChannelState | undefined,
  { channel, wave, measuredAt }: AnalysedEntry,
  analysis: WaveAnalysis,
): ChannelState {
  const bearingsTell = tellsOfBearings(analysis);
  return {
    channel,
    wave,
    at: measuredAt,
    health: analysis.health,
    speaking: bearingsTell
      ? speakingAfter(before?.speaking ?? [], analysis.bearings, { wave, at: measuredAt })
      : (before?.speaking ?? []),
    usual: usualAfter(before?.usual ?? [], analysis),
  };
}

/** In the cut the teeth strike too, and without a speed or a sound signal no line can be named: such a window neither speaks nor is silent. */
export function tellsOfBearings({ cutting, health, bearings }: WaveAnalysis): boolean {
  return bearings.length > 0 && cutting !== true && health.every(({ weight }) => weight === 'doubtful');
}

interface AtWindow {
  readonly wave: number;
  readonly at: number;
}

function speakingAfter(
  before: readonly SpeakingState[],
  findings: readonly BearingFinding[],
  window: AtWindow,
): readonly SpeakingState[] {
  const after: SpeakingState[] = [];
  for (const finding of findings) {
    const known = before.find(({ bearing, part }) => bearing === finding.bearing && part === finding.part);
    const state = finding.speaks ? spoke(known, finding, window) : wasSilent(known);
    if (state !== undefined) after.push(state);
  }
  if (after.length <= SPEAKING_PER_CHANNEL_MAX) return after;
  return after.toSorted((a, b) => b.windows - a.windows).slice(0, SPEAKING_PER_CHANNEL_MAX);
}

function spoke(
  known: SpeakingState | undefined,
  { bearing, part, indicator, foundHz }: BearingFinding,
  { wave, at }: AtWindow,
): SpeakingState {
  const windows = known === undefined || (known.silent > 0 && !known.standing) ? 1 : known.windows + 1;
  const since = known === undefined || windows === 1 ? at : known.since;
  const standing = known?.standing === true || windows >= SPEAKING_WINDOWS;
  return { bearing, part, windows, silent: 0, since, indicator, foundHz, wave, standing };
}

function wasSilent(known: SpeakingState | undefined): SpeakingState | undefined {
  if (known === undefined) return undefined;
  const silent = known.silent + 1;
  return known.standing && silent < SILENT_WINDOWS ? { ...known, silent } : undefined;
}

const isOffScale = (health: readonly HealthFinding[]): boolean => health.every(({ kind }) => kind === 'scale');
const isHealthy = (health: readonly HealthFinding[]): boolean => health.length === 0;

/** Acceleration in the cut is the cut's; a window that something is wrong with tells nothing of what is usual. */
function usualAfter(before: readonly UsualAcceleration[], analysis: WaveAnalysis): readonly UsualAcceleration[] {
  const { speedRpm, cutting } = analysis;
  if (speedRpm === undefined || speedRpm < 1 || cutting === true) return before;
  const speedStep = speedStepOf(speedRpm);
  const known = before.find((one) => one.speedStep === speedStep);
  const after = usualWith(known, speedStep, analysis);
  return after === undefined ? before : [...before.filter((one) => one !== known), after].slice(-USUAL_SPEEDS_MAX);
}

/** Undefined where the window changes nothing. */
function usualWith(
  known: UsualAcceleration | undefined,
  speedStep: number,
  { health, accelerationRmsMS2, levels }: WaveAnalysis,
): UsualAcceleration | undefined {
  if (isHealthy(health)) {
    const rmsMS2 = [...(known?.rmsMS2 ?? []), accelerationRmsMS2].slice(-USUAL_WINDOWS_MAX);
    const spectrum = spectrumWith(known?.spectrum, levels);
    return { speedStep, rmsMS2, ...(spectrum === undefined ? {} : { spectrum }) };
  }
  if (known === undefined) return undefined;
  if (isOffScale(health)) return withOff(known, accelerationRmsMS2);
  if (known.spectrum === undefined || !ringsOnly(health)) return undefined;
  return { ...known, spectrum: spectrumRinging(known.spectrum, levels) };
}

function withOff(known: UsualAcceleration, rmsMS2: number): UsualAcceleration {
  const all = [...(known.offMS2 ?? []), rmsMS2];
  const offMS2 = Math.max(...all) > USUAL_ANEW_WITHIN * Math.min(...all) ? [rmsMS2] : all;
  if (offMS2.length < USUAL_ANEW_WINDOWS) return { ...known, offMS2 };
  return { speedStep: known.speedStep, rmsMS2: offMS2.slice(-USUAL_WINDOWS_MAX) };
}

/** Medians of what was usual and what is from now on, at the speed where windows that were off by their scale became usual. */
export function usualAnew(
  before: ChannelState | undefined,
  after: ChannelState,
): { readonly wasMS2: number; readonly isMS2: number } | undefined {
  for (const one of after.usual) {
    const was = before?.usual.find(({ speedStep }) => speedStep === one.speedStep);
    if (was?.offMS2?.length === USUAL_ANEW_WINDOWS - 1 && one.offMS2 === undefined && !isHealthy(after.health))
      return { wasMS2: median(was.rmsMS2) ?? 0, isMS2: median(one.rmsMS2) ?? 0 };
  }
  return undefined;
}

/** Whether windows whose mount seemed to be another became what is usual, at any speed. */
export function mountAnew(before: ChannelState | undefined, after: ChannelState): boolean {
  return (
    ringsOnly(after.health) &&
    after.usual.some(({ speedStep, spectrum }) => {
      const was = before?.usual.find((one) => one.speedStep === speedStep);
      return spectrumBegan(was?.spectrum, spectrum);
    })
  );
}

const speedStepOf = (speedRpm: number): number => Math.round(Math.log(speedRpm) / Math.log(USUAL_SPEED_STEP));

interface WindowAt {
  readonly spindleId: string;
  readonly channel: string;
  readonly speedRpm: number | undefined;
  readonly cutting: boolean | undefined;
}

function usualAt(floor: Pick<Floor, 'windows'>, of: WindowAt): UsualAcceleration | undefined {
  if (of.speedRpm === undefined || of.speedRpm < 1 || of.cutting === true) return undefined;
  const speedStep = speedStepOf(of.speedRpm);
  const channel = floor.windows.get(of.spindleId)?.channels.find((one) => one.channel === of.channel);
  return channel?.usual.find((one) => one.speedStep === speedStep);
}

/**
 * Median acceleration, m/s² RMS, of the last healthy windows of a channel at nearly this speed, out of the cut; undefined while
 * too few are known.
 */
export function usualRmsMS2(floor: Pick<Floor, 'windows'>, of: WindowAt): number | undefined {
  const rms = usualAt(floor, of)?.rmsMS2 ?? [];
  return rms.length < USUAL_WINDOWS_MIN ? undefined : median(rms);
}

/** RMS velocity of the same in third octaves, mm/s; undefined while too few are known. */
export function usualThirdsMmS(floor: Pick<Floor, 'windows'>, of: WindowAt): readonly number[] | undefined {
  const spectrum = usualAt(floor, of)?.spectrum;
  return spectrum === undefined || spectrum.windows < USUAL_WINDOWS_MIN ? undefined : spectrum.thirdsMmS;
}
