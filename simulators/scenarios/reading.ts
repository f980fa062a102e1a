// One reading of a long scenario, as intake would write it down: mechanics, noise, the sensor's own faults. Made for every
// reading of every spindle, hundreds of millions of them: nothing is made that is not told.
import type { Draft } from '../../shared/entries.ts';
import type { Summary } from '../../shared/messages/index.ts';
import type { Instant } from '../../shared/time.ts';
import type { Prng } from '../prng.ts';
import type { AtSpeed, Clamped } from './clamping.ts';
import type { ScenarioSensor, ScenarioSpindle } from './drawn-plant.ts';
import { DELAY_MS } from './ranges.ts';

export type ReadingDraft = Extract<Draft, { kind: 'summary' }>;

const STANDSTILL_MMS = 0.03;
const SPIN_UP_MS = 6000;
/** After so many of its time constants nothing is left of the cold. */
const COLD_ENDS = 5;
/** The broadband part is measured worse than the line. */
const FLOOR_NOISE = 0.06;
/** Noise of the 1× part that does not depend on it, mm/s RMS. */
export const LEAST_NOISE_MMS = 0.004;
/** m/s², peak: where a sensor of these plants clips. */
const CLIPS_AT_MS2 = 49;
/** Cold is over in the facts where it changes less than a reading's noise. */
const WARM_SHARE = 0.01;

/**
 * @param place whose vibration is felt: the spindle itself, or another one where sensors were swapped.
 * @param moment `remembered`: whether a perfect memory of the load holds it.
 */
export function readingAt(
  spindle: ScenarioSpindle,
  place: ScenarioSpindle,
  { at, prng, remembered }: { readonly at: Instant; readonly prng: Prng; readonly remembered: boolean },
): ReadingDraft {
  const { sensor } = spindle;
  sensor.sequence += 1;
  const { clamped } = place;
  const data =
    clamped === undefined || !place.works
      ? standing(spindle, prng)
      : turning({ spindle, place, clamped, at, prng, isRemembered: remembered && place === spindle });
  const delayMs = DELAY_MS[0] + (DELAY_MS[1] - DELAY_MS[0]) * prng.next() ** 4;
  return {
    at,
    kind: 'summary',
    device: sensor.device,
    id: `${sensor.bootId}-${sensor.sequence}`,
    data,
    time: Math.round(at - delayMs + sensor.skewMs),
    bootId: sensor.bootId,
    sequence: sensor.sequence,
  };
}

function standing({ spindleId, sensor }: ScenarioSpindle, prng: Prng): Summary {
  const mms = sensor.fault === 'dead' ? 0 : STANDSTILL_MMS * (1 + 0.2 * prng.gaussian());
  return { speedRpm: 0, overallMmS: inSteps(mms, 0.001), spindleId, steady: true };
}

interface Moment {
  readonly spindle: ScenarioSpindle;
  readonly place: ScenarioSpindle;
  readonly clamped: Clamped;
  readonly at: Instant;
  readonly prng: Prng;
  readonly isRemembered: boolean;
}

function turning({ spindle, place, clamped, at, prng, isRemembered }: Moment): Summary {
  const { sensor } = spindle;
  const is = clamped.speeds[clamped.speed] ?? NOWHERE;
  const { cutting } = clamped;
  const steady = at - clamped.since >= SPIN_UP_MS;
  const cold = coldness(place, at);
  const loose = sensor.fault === 'loose' ? LOOSE_SHARE * (1 + LOOSE_SCATTER * prng.gaussian()) : 1;
  const gain = Math.abs(sensor.gain * loose) * (sensor.fault === 'clipped' ? CLIPPED_SHARE : 1);
  const noise = 1 + (cutting ? CUT_NOISE * place.cutting : sensor.noise) * prng.gaussian();
  const once = Math.abs(is.velocityMmS * (1 + cold) * noise + LEAST_NOISE_MMS * prng.gaussian());
  const share = is.speedRpm / 10_000;
  const floor =
    place.floorMmS *
    (0.4 + 0.6 * share) *
    clamped.floorFactor *
    place.floorFactor *
    (1 + FLOOR_NOISE * prng.gaussian());
  const twice = place.secondShare * once + 0.02;
  const teeth = cutting ? place.cutting * (0.5 + share) * (1 + 0.3 * prng.gaussian()) : 0;
  const overall = Math.sqrt(once * once + twice * twice + floor * floor + teeth * teeth);
  const phaseDeg = is.phaseDeg + sensor.noise * DEG_PER_RAD * prng.gaussian();
  if (isRemembered && steady && !cutting && cold < WARM_SHARE && sensor.fault === 'sound')
    remember(clamped, is, { once, phaseDeg, floor: Math.abs(floor) / place.floorMmS / (0.4 + 0.6 * share) });
  const data: Summary = {
    speedRpm: Math.fround(Math.round(is.speedRpm * (1 + 0.0004 * prng.gaussian()))),
    overallMmS: inSteps(overall * gain, sensor.stepMmS),
    spindleId: spindle.spindleId,
    synchronousMmS: inSteps(once * gain, sensor.stepMmS),
  };
  if (spindle.tacho) data.synchronousPhaseDeg = Math.fround((Math.round(phaseDeg * 10) / 10 + 720) % 360);
  data.secondOrderMmS = inSteps(twice * gain, sensor.stepMmS);
  addAcceleration(data, { place, sensor, share, cutting, gain, prng });
  if (!place.controlTellsCut) data.cutting = cutting;
  data.steady = steady;
  if (sensor.fault === 'clipped' && sensor.tellsFault) data.fault = 'clipped';
  if (sensor.fault === 'dead') silence(data);
  return data;
}

const NOWHERE: AtSpeed = { speedRpm: 1, perGmm: 0, turnDeg: 0, velocityMmS: 0, phaseDeg: 0 };
const DEG_PER_RAD = 180 / Math.PI;
/** In the cut the 1× part wanders with the forces. */
const CUT_NOISE = 0.25;
/** A sensor that hangs on its thread feels a part of it only, another one every time. Common practice, no source. */
const LOOSE_SHARE = 0.45;
const LOOSE_SCATTER = 0.35;
/** What is cut off at the top is missing in the whole. Common practice, no source. */
const CLIPPED_SHARE = 0.75;

function coldness({ coldShare, coldMs, warmFrom }: ScenarioSpindle, at: Instant): number {
  const turnedMs = at - warmFrom;
  return turnedMs > COLD_ENDS * coldMs ? 0 : coldShare * Math.exp(-turnedMs / coldMs);
}

function remember(
  clamped: Clamped,
  is: AtSpeed,
  { once, phaseDeg, floor }: { readonly once: number; readonly phaseDeg: number; readonly floor: number },
): void {
  const { fact } = clamped;
  const gmm = once / is.perGmm;
  const radians = (phaseDeg - is.turnDeg) / DEG_PER_RAD;
  fact.readings += 1;
  fact.sumSquares += gmm * gmm;
  fact.sumX += gmm * Math.cos(radians);
  fact.sumY += gmm * Math.sin(radians);
  fact.sumLogFloor += Math.log(floor);
}

interface Accelerating {
  readonly place: ScenarioSpindle;
  readonly sensor: ScenarioSensor;
  readonly share: number;
  readonly cutting: boolean;
  readonly gain: number;
  readonly prng: Prng;
}

function addAcceleration(data: Summary, { place, sensor, share, cutting, gain, prng }: Accelerating): void {
  const damage = place.floorFactor - 1;
  const base = place.accelerationMS2 * (0.3 + 0.7 * share * share) * (1 + 0.7 * damage) * (1 + 0.05 * prng.gaussian());
  const rms = Math.abs((base + (cutting ? 10 * place.cutting * share : 0)) * gain);
  const impulsive = Math.min(3, damage);
  const peak = rms * (3.8 + impulsive);
  data.accelerationRmsMS2 = Math.fround(Math.round(rms * 100) / 100);
  data.accelerationPeakMS2 = Math.fround(
    Math.round((sensor.fault === 'clipped' ? Math.min(peak, CLIPS_AT_MS2) : peak) * 100) / 100,
  );
  if (!sensor.tellsEnvelope) return;
  data.kurtosis = Math.fround(
    Math.round(Math.max(1, (cutting ? 3.6 : 3.05) + impulsive + 0.12 * prng.gaussian()) * 100) / 100,
  );
  data.envelopeMS2 = Math.fround(Math.round(rms * (0.12 + 0.25 * impulsive) * 1000) / 1000);
}

function silence(data: Summary): void {
  data.overallMmS = 0;
  data.synchronousMmS = 0;
  data.secondOrderMmS = 0;
  data.accelerationRmsMS2 = 0;
  data.accelerationPeakMS2 = 0;
  delete data.kurtosis;
  delete data.envelopeMS2;
  delete data.synchronousPhaseDeg;
}

function inSteps(value: number, step: number): number {
  return Math.fround(Math.round(Math.round(value / step) * step * 1000) / 1000);
}
