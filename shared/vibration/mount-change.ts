// A sensor that came loose: against earlier windows of one speed its spectrum changes as that of a mass on a spring, whatever excites it.
import { say } from '../language/index.ts';
import type { HealthFinding } from '../wave-analysis.ts';
import { figure } from './health-words.ts';
import { BANDS_PER_OCTAVE, LOWEST_HZ, type Levels } from './levels.ts';

/** Three bands an octave, from the lowest of the levels on. */
const PER_OCTAVE = 3;
/** Mains, belts and lines of the shaft come and go below; fewer bands above have no shape. */
const COMPARED_FROM_HZ = 100;
const BANDS_MIN = 12;

/** A mount's resonance is looked for from here: below, machines have their own (common practice: a magnet rings from 2 kHz up). */
const RINGS_FROM_HZ = 800;
/** Less than that, in dB over what changed everywhere, is not looked at; the planted mounts had 13 and more. */
const RINGS_DB = 10;
/** So many bands have to lie above the hump: without the fall there it may be a bearing, a belt, a nozzle. */
const BANDS_ABOVE_MIN = 2;
/**
 * By so much less than usual has to come through above the hump, in dB. Blows that begin to ring in a structure lift what is below
 * its resonance too, and hide a fall against that; nothing gets less by them.
 */
const FALLS_DB = 2;
/** Fractions of a third octave, and amplifications at the resonance, that are tried. */
const STEPS_PER_BAND = 4;
const QUALITIES = [3, 4, 6, 8, 11, 15, 22, 30] as const;
/** Points of the curve in a band that are averaged. */
const POINTS = 8;

/**
 * How much of the change in dB, band by band, the curve of a mass on a spring has to explain. Of 375 planted mounts the least had
 * 0.71; of 755 pairs of windows with a sound mount, two bearings' damage, bent shafts and other speeds among them, the most had 0.48.
 */
const EXPLAINED_MIN = 0.6;

/** RMS of the velocity in third octaves, mm/s, from the levels of a window: what is remembered as usual. */
export function thirdOctaves({ velocityMmS }: Pick<Levels, 'velocityMmS'>): number[] {
  const share = BANDS_PER_OCTAVE / PER_OCTAVE;
  return Array.from({ length: Math.floor(velocityMmS.length / share) }, (_, i) => {
    let squares = 0;
    for (let band = share * i; band < share * (i + 1); band += 1) squares += velocityMmS[band]! ** 2;
    return Math.sqrt(squares);
  });
}

const lowerHz = (band: number): number => LOWEST_HZ * 2 ** (band / PER_OCTAVE);

/** A mount held against earlier windows. */
export interface MountCompared {
  /** Undefined where nothing speaks for it. */
  readonly loosened: HealthFinding | undefined;
}

interface Change {
  /** Number of the first band compared. */
  readonly from: number;
  readonly dB: readonly number[];
}

/** Undefined where too little is known of one of both. */
function changeOf(now: readonly number[], usual: readonly number[]): Change | undefined {
  const from = Math.ceil(PER_OCTAVE * Math.log2(COMPARED_FROM_HZ / LOWEST_HZ));
  const to = Math.min(now.length, usual.length);
  if (to - from < BANDS_MIN) return undefined;
  const dB: number[] = [];
  for (let band = from; band < to; band += 1) {
    // A band without any velocity at all is of a line that is flat, or simulated.
    if (!(now[band]! > 0 && usual[band]! > 0)) return undefined;
    dB.push(20 * Math.log10(now[band]! / usual[band]!));
  }
  return { from, dB };
}

/** Mean power that a mass on a spring lets through in a band, in dB: its transmissibility (mechanics, any textbook of vibration). */
function throughDb(band: number, hz: number, quality: number): number {
  let sum = 0;
  for (let point = 0; point < POINTS; point += 1) {
    const ratio = lowerHz(band + (point + 0.5) / POINTS) / hz;
    const damping = (ratio / quality) ** 2;
    sum += (1 + damping) / ((1 - ratio * ratio) ** 2 + damping);
  }
  return 10 * Math.log10(sum / POINTS);
}

const meanOf = (values: readonly number[]): number => values.reduce((sum, it) => sum + it, 0) / values.length;

function squaresAbout(values: readonly number[], mean: number): number {
  return values.reduce((sum, it) => sum + (it - mean) ** 2, 0);
}

/** The resonance whose curve fits the change best, and how much of it that explains; the whole may have grown besides. */
function fitted({ from, dB }: Change, top: number): { readonly hz: number; readonly explained: number } {
  const total = squaresAbout(dB, meanOf(dB));
  let best = { hz: 0, explained: -Infinity };
  for (let step = -STEPS_PER_BAND; step <= 2 * STEPS_PER_BAND; step += 1) {
    const hz = lowerHz(from + top + step / STEPS_PER_BAND);
    for (const quality of QUALITIES) {
      const left = dB.map((it, i) => it - throughDb(from + i, hz, quality));
      const explained = 1 - squaresAbout(left, meanOf(left)) / total;
      if (explained > best.explained) best = { hz, explained };
    }
  }
  return best;
}

/**
 * What the change from the usual third octaves of earlier healthy windows, at nearly the same speed and out of the cut, says of the
 * mount: a hump, and less than usual above it, where a loose sensor no longer follows. Damage that strikes lifts a hump too, but takes
 * nothing away above. Undefined where too little is known to compare.
 */
export function mountCompared(now: readonly number[], usual: readonly number[]): MountCompared | undefined {
  const change = changeOf(now, usual);
  return change && { loosened: loosened(change) };
}

function loosened(change: Change): HealthFinding | undefined {
  const { dB } = change;
  const most = Math.max(...dB);
  const top = dB.indexOf(most);
  const elsewhere = meanOf(dB);
  if (!(most - elsewhere >= RINGS_DB) || top + BANDS_ABOVE_MIN >= dB.length) return undefined;
  const { hz, explained } = fitted(change, top);
  if (hz < RINGS_FROM_HZ || explained < EXPLAINED_MIN) return undefined;
  const above = Math.min(...dB.slice(top + 1));
  if (above > -FALLS_DB) return undefined;
  return {
    kind: 'mounting',
    weight: 'doubtful',
    words: say`Against earlier windows at this speed the vibration about ${figure(hz)} Hz has grown by ${figure(most)} dB, and fallen by ${figure(-above)} dB above: so does a sensor that has come loose and rings on its mount. Check that it sits on a flat, clean face, screwed or glued, and knock beside it. Figures below a third of that frequency are little touched.`,
  };
}
