// An assembly in a spindle: what is in force for the pair, and up to which speeds no rule speaks.
import type { HoldReason } from '../../shared/holds.ts';
import { buildInForce, buildOf, measurementInForce } from './in-force.ts';
import type { AssemblyState, BuildState, Deviation, LoadedState, MeasurementState } from './floor.ts';
import { UNBOUNDED_RPM } from './limits.ts';

export interface Pairing {
  readonly buildId: string | undefined;
  readonly build: BuildState | undefined;
  readonly measurement: MeasurementState | undefined;
  /** Only while it is for this very build and measurement. */
  readonly deviation: Deviation | undefined;
}

/** What is in force for an assembly, seen with the build that its load named. */
export function pairingOf(assembly: AssemblyState, saidBuildId: string | undefined): Pairing {
  const buildId = buildInForce(assembly, saidBuildId);
  const measurement = measurementInForce(assembly, buildId);
  const { deviation } = assembly;
  const valid = deviation?.buildId === buildId && deviation?.measurement === measurement?.position;
  return { buildId, build: buildOf(assembly, buildId), measurement, deviation: valid ? deviation : undefined };
}

/**
 * The speed above which a pairing is above what its assembly is balanced for; undefined while nothing is known.
 * Within: as far as the measurement shows it. Undecided or not to be shown: the service speed, for beyond that it was
 * neither shown nor asked for. A deviation reaches up to the speed that it was given for.
 */
export function balancedUpToRpm({ measurement, deviation }: Pairing): number | undefined {
  if (measurement === undefined) return undefined;
  const { kind, shownUpToRpm, serviceSpeedRpm } = measurement.judgement;
  if (shownUpToRpm === undefined || serviceSpeedRpm === undefined) return undefined;
  const upTo =
    kind === 'undecided' || kind === 'cannot-be-shown' ? Math.max(shownUpToRpm, serviceSpeedRpm) : shownUpToRpm;
  return Math.max(upTo, deviation?.upToRpm ?? 0);
}

/**
 * The speed up to which the gate has nothing against the balance: as far as it was shown, or as a deviation reaches; where
 * nobody could show the grade, as far as the reading itself is within, but never beyond the service speed.
 */
export function unobjectedUpToRpm({ measurement, deviation }: Pairing): number | undefined {
  const given = deviation?.upToRpm ?? 0;
  const { kind, shownUpToRpm, readingUpToRpm = 0, serviceSpeedRpm = 0 } = measurement?.judgement ?? {};
  if (shownUpToRpm === undefined) return given > 0 ? given : undefined;
  const read = kind === 'cannot-be-shown' ? Math.min(readingUpToRpm, serviceSpeedRpm) : 0;
  return Math.max(shownUpToRpm, read, given);
}

/** Up to which speed a person set a reason aside for this load; 0 where nobody did. */
export function waivedUpToRpm(loaded: Pick<LoadedState, 'waivers'> | undefined, reason: HoldReason): number {
  return loaded?.waivers.find((waiver) => waiver.reason === reason)?.upToRpm ?? 0;
}

/** The lowest speed above which a rule would speak of this pairing. */
export function speedBoundRpm(pairing: Pairing, loaded: Pick<LoadedState, 'waivers'>): number {
  const marked = pairing.build?.lowestMarkedRpm ?? UNBOUNDED_RPM;
  const balanced = balancedUpToRpm(pairing) ?? UNBOUNDED_RPM;
  return Math.min(
    Math.max(marked, waivedUpToRpm(loaded, 'speed-above-marked')),
    Math.max(balanced, waivedUpToRpm(loaded, 'speed-above-balanced')),
  );
}

/** The pairing's figures kept beside the load, so that a reading needs no second look-up. */
export function withFigures(loaded: LoadedState, assembly: AssemblyState | undefined): LoadedState {
  if (assembly === undefined) return { ...loaded, residualGmm: undefined, speedBoundRpm: UNBOUNDED_RPM };
  const pairing = pairingOf(assembly, loaded.buildId);
  return {
    ...loaded,
    residualGmm: pairing.measurement?.judgement.residualGmm,
    speedBoundRpm: speedBoundRpm(pairing, loaded),
  };
}

/** For those who show it: the measurement that counts for an assembly with the build that its load named, or its newest. */
export function measurementInForceOf(assembly: AssemblyState, saidBuildId?: string): MeasurementState | undefined {
  return pairingOf(assembly, saidBuildId).measurement;
}

/** Whether a person let the newest build go on as it was measured. */
export function isDeviatedFrom(assembly: AssemblyState): boolean {
  return pairingOf(assembly, undefined).deviation !== undefined;
}
