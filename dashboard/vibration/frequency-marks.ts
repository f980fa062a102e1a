// Which frequencies of a spectrum have a name: shaft orders, tooth passing, the lines of bearings with the slip allowed. Pure.
import { say } from '../../shared/language/index.ts';
import { bearingFrequencies, SLIP } from '../../shared/vibration/index.ts';
import type { Bearing } from '../../shared/bearing.ts';
import type { BearingPart, WaveAnalysis } from '../../shared/wave-analysis.ts';

export type MarkShape = 'order' | 'teeth' | BearingPart;

export interface FrequencyMark {
  readonly hz: number;
  /** Anywhere between these it may stand: rolling elements slip, shafts do not. */
  readonly fromHz: number;
  readonly toHz: number;
  /** Short, beside the mark. */
  readonly word: string;
  /** In a sentence: "outer race of the front bearing". */
  readonly name: string;
  readonly shape: MarkShape;
  /** Whose part it is. */
  readonly bearing?: string;
  /** The analysis found more there than noise makes. */
  readonly speaks: boolean;
  /** Where the analysis found it, of what speaks. */
  readonly foundHz?: number;
}

export interface MarksAsked {
  readonly speedRpm?: number | undefined;
  readonly teeth?: number | undefined;
  readonly bearings?: readonly Bearing[] | undefined;
  readonly analysis?: Pick<WaveAnalysis, 'speedRpm' | 'toothPassing' | 'bearings'> | undefined;
}

const ORDERS = [1, 2, 3] as const;
const PARTS: readonly BearingPart[] = ['cage', 'outer', 'inner', 'rolling'];

export const PART_WORDS: Readonly<Record<BearingPart, string>> = {
  cage: say`cage`,
  outer: say`outer race`,
  inner: say`inner race`,
  rolling: say`rolling element`,
};

/** Beside a mark. */
const PART_SHORT: Readonly<Record<BearingPart, string>> = {
  cage: say`cage`,
  outer: say`outer`,
  inner: say`inner`,
  rolling: say`rolling`,
};

export const orderName = (order: number): string => say`${order}× of the shaft`;

export const harmonicName = (n: number, of: string): string => say`harmonic ${n} of the ${of}`;

export function speedOf({ analysis, speedRpm }: MarksAsked): number | undefined {
  const known = analysis?.speedRpm ?? speedRpm;
  return known !== undefined && known > 0 ? known : undefined;
}

/** Slowest first; nothing where the speed is not known. */
export function frequencyMarks(asked: MarksAsked): FrequencyMark[] {
  const speedRpm = speedOf(asked);
  if (speedRpm === undefined) return [];
  const shaftHz = speedRpm / 60;
  const teeth = asked.analysis?.toothPassing?.teeth ?? asked.teeth;
  const marks = ORDERS.map((order) => orderMark(order, shaftHz));
  if (teeth !== undefined && teeth > 0)
    marks.push({
      ...orderMark(teeth, shaftHz),
      word: `z× (${teeth})`,
      name: say`tooth passing, ${teeth} teeth`,
      shape: 'teeth',
    });
  return [...marks, ...bearingMarks(asked, speedRpm)].sort((a, b) => a.hz - b.hz);
}

function orderMark(order: number, shaftHz: number): FrequencyMark {
  const hz = order * shaftHz;
  return {
    hz,
    fromHz: hz,
    toHz: hz,
    word: `${order}×`,
    name: orderName(order),
    shape: 'order',
    speaks: false,
  };
}

/** As the analysis expected them; else reckoned from the declared bearings. */
function bearingMarks({ analysis, bearings = [] }: MarksAsked, speedRpm: number): FrequencyMark[] {
  if (analysis !== undefined && analysis.bearings.length > 0)
    return analysis.bearings.map(({ bearing, part, expectedHz, speaks, foundHz }) => ({
      ...bearingMark(bearing, part, expectedHz, speaks),
      ...(speaks && foundHz !== undefined ? { foundHz } : {}),
    }));
  return bearings.flatMap((bearing) => {
    const hz = bearingFrequencies(bearing, speedRpm);
    return PARTS.map((part) => bearingMark(bearing.name, part, hz[part], false));
  });
}

function bearingMark(bearing: string, part: BearingPart, hz: number, speaks: boolean): FrequencyMark {
  return {
    hz,
    fromHz: hz * (1 - SLIP),
    toHz: hz * (1 + SLIP),
    word: `${bearing} ${PART_SHORT[part]}`,
    name: say`${PART_WORDS[part]} of the bearing ${bearing}`,
    shape: part,
    bearing,
    speaks,
  };
}

/**
 * A bearing line's harmonics, and beside each its sidebands: one turn of the shaft apart for the inner race, which turns through the
 * load, one turn of the cage for a rolling element (Randall and Antoni 2011, Rolling element bearing diagnostics: a tutorial).
 */
export function familyOf(
  mark: FrequencyMark,
  others: readonly FrequencyMark[],
  shaftHz: number,
  harmonics: number,
): FrequencyMark[] {
  const cageHz = others.find(({ shape, bearing }) => shape === 'cage' && bearing === mark.bearing)?.hz;
  const apartHz = mark.shape === 'inner' ? shaftHz : mark.shape === 'rolling' ? cageHz : undefined;
  // Of its own place found, not of theirs.
  const { foundHz: _, ...like } = mark;
  const family: FrequencyMark[] = [];
  for (let n = 1; n <= harmonics; n += 1) {
    if (n > 1)
      family.push({
        ...like,
        hz: mark.hz * n,
        fromHz: mark.fromHz * n,
        toHz: mark.toHz * n,
        word: `${n}`,
        name: harmonicName(n, mark.name),
      });
    if (apartHz === undefined) continue;
    for (const side of [-1, 1]) {
      const word = side < 0 ? '−' : '+';
      const shift = side * apartHz;
      family.push({
        ...like,
        hz: mark.hz * n + shift,
        fromHz: mark.fromHz * n + shift,
        toHz: mark.toHz * n + shift,
        word,
        name:
          side < 0
            ? say`sideband below harmonic ${n} of the ${mark.name}`
            : say`sideband above harmonic ${n} of the ${mark.name}`,
      });
    }
  }
  return family.filter(({ hz }) => hz > 0);
}
