// What the spectrum of an envelope says of the parts of a bearing: lines, harmonics and sidebands gathered into one figure each.
import type { Bearing } from '../bearing.ts';
import type { BearingFinding, BearingPart } from '../wave-analysis.ts';
import { defectOrders } from './bearing-frequencies.ts';
import { medianOfRow } from './selection.ts';
import { shaftInEnvelope } from './envelope-shaft.ts';
import type { Spectrum } from './spectrum.ts';
import { workRow } from './work-rows.ts';

/** Here, not from the schema: a browser reckons this too, and takes no validator along. */
const PARTS: readonly BearingPart[] = ['cage', 'outer', 'inner', 'rolling'];

/** Elements slip: real lines lie off the kinematic ones by one or two percent (Randall & Antoni 2011). */
export const SLIP = 0.02;

/** A top between samples is placed at least so well; where the slip is less than that in a short window, so much is allowed. */
const PLACED_WITHIN_LINES = 0.5;

/** Narrower than this beside a whole multiple of the shaft's frequency, a line is the shaft's and not the bearing's. */
const SHAFT_LINES = 1.2;

/**
 * From so many times the floor a line is counted. The floor is the median line, so noise alone passes 3 at one line in 2^9
 * (amplitudes of Gaussian noise are Rayleigh distributed: P(> t·median) = 2^−t²).
 */
const COUNTED_FROM = 3;

/**
 * From so many times the floor, gathered, a race or a rolling element speaks. Noise alone never came near: the greatest of 10,000
 * windows, by seeds, was 7. What sets it is healthy machines, which modulate: 27 rows of a good bearing on a rotor bench reached 17
 * (a bent shaft; one that rattles goes by the rule of sidebands below), damaged races 19 to 74, on the axis in line with the load 26
 * and more. Light damage below that is told by the trend of the figure, not by this.
 */
export const SPEAKS_FROM = 20;

/** The same for the cage, whose lines lie below the first shaft order, where machines modulate less: those rows reached 8, noise 9. */
export const CAGE_SPEAKS_FROM = 10;

/**
 * The outer race stands still in the load, so its line stands above its own sidebands at the shaft's frequency. A row of lines about
 * as strong, all as far off the whole orders, is a shaft with play that rattles. Heavy outer damage on that bench: 2.2 and more; the
 * rattling good bearing: 0.9.
 */
const ABOVE_SHAFT_SIDEBANDS = 1.25;

const HARMONICS_MAX = 4;

/** The floor is taken up to this order at least: defects of usual bearings speak below it, three harmonics of an outer race too. */
const FLOOR_ORDERS: readonly [number, number] = [0.25, 12];

/** With fewer lines between two shaft orders there is no room for a defect's line off both. */
const LINES_PER_ORDER_MIN = 6;

/** Windows of so few lines per shaft order cannot tell a defect's lines from the shaft's: nothing is said of bearings. */
export function resolvesBearings(spectrum: Spectrum, shaftHz: number): boolean {
  return shaftHz >= LINES_PER_ORDER_MIN * spectrum.stepHz;
}

/**
 * The median line of an envelope's spectrum from 0.25 to 12 shaft orders, in its unit: what noise alone makes. No further than half
 * the width of the envelope's band: the envelope of noise has its power in a triangle that ends at the band's width, and a median
 * from its far corner would call everything a line.
 */
export function envelopeFloor(spectrum: Spectrum, shaftHz: number, bandWidthHz = Number.POSITIVE_INFINITY): number {
  const { stepHz, amplitude } = spectrum;
  const highestHz = Math.min(FLOOR_ORDERS[1] * shaftHz, bandWidthHz / 2);
  const first = Math.max(1, Math.ceil((FLOOR_ORDERS[0] * shaftHz) / stepHz - 1e-9));
  const last = Math.min(amplitude.length - 1, Math.floor(highestHz / stepHz + 1e-9));
  if (last < first) return 0;
  const count = last - first + 1;
  const lines = workRow('floor', count);
  lines.set(amplitude.subarray(first, last + 1));
  return medianOfRow(lines, count);
}

/** A line between the samples of a spectrum: where its top is, in lines, and how high its highest sample is over the floor. */
interface Line {
  readonly at: number;
  readonly toFloor: number;
}

const NO_LINE: Line = { at: 0, toFloor: 0 };

/** Looks for tops off the shaft orders in one spectrum. */
class Tops {
  readonly #amplitude: Float64Array;
  readonly #floor: number;
  readonly shaftLines: number;
  readonly #lastLine: number;

  constructor(spectrum: Spectrum, shaftHz: number, floor: number, bandWidthHz: number) {
    this.#amplitude = spectrum.amplitude;
    this.#floor = floor;
    this.shaftLines = shaftHz / spectrum.stepHz;
    this.#lastLine = Math.min(spectrum.amplitude.length - 2, Math.floor(bandWidthHz / spectrum.stepHz));
  }

  /** Every top whose place, between samples, is within `tolerance` lines of `at` and off the shaft orders. */
  *within(at: number, tolerance: number): Generator<Line> {
    const first = Math.max(2, Math.floor(at - tolerance));
    const last = Math.min(this.#lastLine, Math.ceil(at + tolerance));
    for (let k = first; k <= last; k += 1) {
      const height = this.#amplitude[k]!;
      if (!(height > this.#amplitude[k - 1]! && height >= this.#amplitude[k + 1]!)) continue;
      const top = k + this.#between(k);
      if (Math.abs(top - at) > tolerance || this.#onShaft(top)) continue;
      yield { at: top, toFloor: height / this.#floor };
    }
  }

  highest(at: number, tolerance: number): Line {
    let highest = NO_LINE;
    for (const line of this.within(at, tolerance)) if (line.toFloor > highest.toFloor) highest = line;
    return highest;
  }

  /** From the parabola through the logarithms of the top and its neighbours: −0.5 to 0.5 lines. */
  #between(k: number): number {
    const before = this.#amplitude[k - 1]!;
    const here = this.#amplitude[k]!;
    const after = this.#amplitude[k + 1]!;
    if (!(before > 0 && after > 0)) return 0;
    const bend = Math.log(before) - 2 * Math.log(here) + Math.log(after);
    if (!(bend < 0)) return 0;
    return Math.max(-0.5, Math.min(0.5, (0.5 * (Math.log(before) - Math.log(after))) / bend));
  }

  #onShaft(top: number): boolean {
    const order = Math.round(top / this.shaftLines);
    return order > 0 && Math.abs(top - order * this.shaftLines) < SHAFT_LINES;
  }
}

/** Sidebands of a part, in shaft orders: the inner race turns through the load with the shaft, a rolling element with the cage. */
function sidebandOrders(part: BearingPart, cageOrder: number): readonly number[] {
  switch (part) {
    case 'inner':
      return [1, 2];
    case 'rolling':
      return [cageOrder, 2 * cageOrder];
    case 'outer':
    case 'cage':
      return [];
  }
}

interface Gathered {
  readonly line: Line;
  readonly indicator: number;
  readonly harmonics: number;
  readonly sidebands: number;
}

/** A line with its harmonics and sidebands: the root of the sum of squares of all that are counted. */
function gathered(tops: Tops, line: Line, sidebands: readonly number[]): Gathered {
  let power = 0;
  let harmonics = 0;
  let beside = 0;
  for (let h = 1; h <= HARMONICS_MAX; h += 1) {
    // A harmonic lies where the line says, but the line's place is uncertain by a fraction that grows with the harmonic.
    const toFloor = h === 1 ? line.toFloor : tops.highest(h * line.at, 1 + 0.25 * h).toFloor;
    if (toFloor < COUNTED_FROM) continue;
    harmonics += 1;
    power += toFloor * toFloor;
  }
  for (const order of sidebands) {
    for (const sign of [-1, 1]) {
      const { toFloor } = tops.highest(line.at + sign * order * tops.shaftLines, 1);
      if (toFloor < COUNTED_FROM) continue;
      beside += 1;
      // Never for more than the line they stand beside: a sideband may be another part's own line.
      power += Math.min(toFloor, line.toFloor) ** 2;
    }
  }
  return { line, indicator: Math.sqrt(power), harmonics, sidebands: beside };
}

/** Whether lines one and two shaft orders away, as far off the whole orders, are about as strong. */
function oneOfMany(tops: Tops, line: Line): boolean {
  for (const order of [-2, -1, 1, 2]) {
    const beside = tops.highest(line.at + order * tops.shaftLines, 1);
    if (line.toFloor < ABOVE_SHAFT_SIDEBANDS * beside.toFloor) return true;
  }
  return false;
}

/** The line within the slip that gathers most; for a cage also by its second harmonic, at which a flawed element shows. */
function strongest(tops: Tops, order: number, part: BearingPart, cageOrder: number): Gathered {
  const at = order * tops.shaftLines;
  const sidebands = sidebandOrders(part, cageOrder);
  let best: Gathered = { line: NO_LINE, indicator: 0, harmonics: 0, sidebands: 0 };
  const consider = (line: Line): void => {
    const found = gathered(tops, line, sidebands);
    if (found.indicator > best.indicator || (best.indicator === 0 && line.toFloor > best.line.toFloor)) best = found;
  };
  for (const line of tops.within(at, Math.max(PLACED_WITHIN_LINES, SLIP * at))) consider(line);
  if (part !== 'cage') return best;
  for (const second of tops.within(2 * at, Math.max(PLACED_WITHIN_LINES, 2 * SLIP * at))) {
    if (second.toFloor >= COUNTED_FROM)
      consider({ at: second.at / 2, toFloor: tops.highest(second.at / 2, 1).toFloor });
  }
  return best;
}

/** Lines of the outer race's place that are the shaft's play take those of other parts with them that are as far off the orders. */
function asFarOff(tops: Tops, one: Line, other: Line): boolean {
  const offOf = (line: Line): number => line.at - Math.round(line.at / tops.shaftLines) * tops.shaftLines;
  return Math.abs(offOf(one) - offOf(other)) <= 1.5;
}

/**
 * What the envelope says of each part of each bearing. `spectrum` is of an envelope whose band is `bandWidthHz` wide (there are no lines
 * to be trusted above that), `shaftHz` the shaft's frequency as exactly as it is known. Where it is known within
 * a share `speedWithin` only, the envelope's own orders are asked first. Empty where the window is too short to tell
 * a bearing's lines from the shaft's.
 */
export function bearingFindings(
  spectrum: Spectrum,
  shaftHz: number,
  bandWidthHz: number,
  bearings: readonly Bearing[],
  speedWithin = 0,
): BearingFinding[] {
  const floor = envelopeFloor(spectrum, shaftHz, bandWidthHz);
  if (!resolvesBearings(spectrum, shaftHz) || !(floor > 0)) return [];
  const exactHz = speedWithin > 0 ? shaftInEnvelope(spectrum, shaftHz, floor, speedWithin) : shaftHz;
  const tops = new Tops(spectrum, exactHz, floor, bandWidthHz);
  return bearings.flatMap((bearing) => findingsOf(tops, bearing, exactHz, spectrum.stepHz));
}

function findingsOf(tops: Tops, bearing: Bearing, shaftHz: number, stepHz: number): BearingFinding[] {
  const orders = defectOrders(bearing);
  const found = new Map(PARTS.map((part) => [part, strongest(tops, orders[part], part, orders.cage)] as const));
  const outer = found.get('outer')!.line;
  const rattles = outer.toFloor >= COUNTED_FROM && oneOfMany(tops, outer);
  return PARTS.map((part) => {
    const { line, indicator, harmonics, sidebands } = found.get(part)!;
    const counted = harmonics > 0;
    return {
      bearing: bearing.name,
      part,
      expectedHz: orders[part] * shaftHz,
      ...(counted ? { foundHz: line.at * stepHz } : {}),
      indicator: counted ? indicator : line.toFloor,
      harmonics,
      sidebands,
      speaks: speaks(part, indicator, () => disputed(tops, part, line, rattles ? outer : undefined)),
    };
  });
}

function speaks(part: BearingPart, indicator: number, isDisputed: () => boolean): boolean {
  return indicator >= (part === 'cage' ? CAGE_SPEAKS_FROM : SPEAKS_FROM) && !isDisputed();
}

/** Whether the shaft explains a part's line as well as the bearing does. */
function disputed(tops: Tops, part: BearingPart, line: Line, rattling: Line | undefined): boolean {
  switch (part) {
    case 'cage':
      return false;
    case 'inner':
      return rattling !== undefined && asFarOff(tops, line, rattling);
    case 'outer':
    case 'rolling':
      return oneOfMany(tops, line);
  }
}
