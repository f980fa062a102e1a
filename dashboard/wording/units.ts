// In which unit each quantity is read in this browser. What is measured, sent and kept stays in the units of the messages: a value
// is converted where it is written, and nowhere else. Pure, but for what the browser keeps.
import { inPerSFromMmPerS, inchFromMm, lbFromKg, ozFromG, ozInFromGmm } from '../../shared/balance/index.ts';
import { say } from '../../shared/language/index.ts';

const KEY = 'counterpoise-units';

/** Each with its two: of the messages first. */
export const UNIT_CHOICES = {
  velocity: ['mm/s', 'in/s'],
  acceleration: ['m/s²', 'g'],
  unbalance: ['g·mm', 'oz·in'],
  displacement: ['µm', 'mil'],
  mass: ['g', 'oz'],
} as const satisfies Record<string, readonly [string, string]>;
export type UnitQuantity = keyof typeof UNIT_CHOICES;
export type ChosenUnits = Readonly<Record<UnitQuantity, string>>;
export const UNIT_QUANTITIES = Object.keys(UNIT_CHOICES) as readonly UnitQuantity[];

/** Standard gravity: exact (3rd CGPM, 1901; NIST SP 811, appendix B.8). */
const MS2_PER_G = 9.80665;

interface Other {
  readonly quantity: UnitQuantity;
  readonly word: string;
  /** How many of it make one of the messages' unit. */
  readonly factor: number;
}

/** By the UCUM code of the messages: the other unit. A balance grade is a number of mm/s everywhere and is not among them. */
const OTHERS: Readonly<Record<string, Other>> = {
  'mm/s': { quantity: 'velocity', word: 'in/s', factor: inPerSFromMmPerS(1) },
  'm/s2': { quantity: 'acceleration', word: 'g', factor: 1 / MS2_PER_G },
  'g.mm': { quantity: 'unbalance', word: 'oz·in', factor: ozInFromGmm(1) },
  'g.mm2': { quantity: 'unbalance', word: 'oz·in²', factor: inchFromMm(ozInFromGmm(1)) },
  // A mil is a thousandth of an inch, a µm a thousandth of a mm.
  um: { quantity: 'displacement', word: 'mil', factor: inchFromMm(1) },
  g: { quantity: 'mass', word: 'oz', factor: ozFromG(1) },
  kg: { quantity: 'mass', word: 'lb', factor: lbFromKg(1) },
};

/** The reader's words for the UCUM codes that the messages carry. */
const UNIT_WORDS: Readonly<Record<string, string>> = {
  'g.mm': 'g·mm',
  'g.mm2': 'g·mm²',
  '{rev}/min': say`rpm`,
  '1': '',
  um: 'µm',
  'm/s2': 'm/s²',
  deg: '°',
};

export interface ShownUnit {
  readonly word: string;
  /** Whether it is another than that of the messages. */
  readonly converted: boolean;
  readonly of: (value: number) => number;
  readonly back: (shown: number) => number;
}

const same = (value: number): number => value;

/** How amounts with this UCUM code are shown under a choice. */
export function shownBy(ucum: string, chosen: Partial<ChosenUnits>): ShownUnit {
  const other = Object.hasOwn(OTHERS, ucum) ? OTHERS[ucum] : undefined;
  if (other === undefined || chosen[other.quantity] !== UNIT_CHOICES[other.quantity][1])
    return { word: UNIT_WORDS[ucum] ?? ucum, converted: false, of: same, back: same };
  const { word, factor } = other;
  return { word, converted: true, of: (value) => value * factor, back: (shown) => shown / factor };
}

let inForce: ChosenUnits | undefined;

/** As chosen in this browser: a page shows one unit from its first line to its last. */
export const shownUnit = (ucum: string): ShownUnit => shownBy(ucum, (inForce ??= chosenUnits()));

/** For tests of what is shown. */
export function showUnits(chosen: Partial<ChosenUnits>): void {
  inForce = { ...unitsOf(undefined), ...chosen };
}

export function chosenUnits(): ChosenUnits {
  try {
    return unitsOf(JSON.parse(localStorage.getItem(KEY) ?? '{}'));
  } catch {
    // Refused in some kiosks, or not ours: the units of the messages.
    return unitsOf(undefined);
  }
}

/** Kept for the next page; what stands already is not converted. */
export function keepUnits(chosen: ChosenUnits): void {
  try {
    localStorage.setItem(KEY, JSON.stringify(chosen));
  } catch {
    // Storage is refused in some kiosks: the units of the messages are shown then.
  }
}

function unitsOf(kept: unknown): ChosenUnits {
  const told = (kept ?? {}) as Partial<Record<UnitQuantity, unknown>>;
  const chosen = UNIT_QUANTITIES.map((quantity) => {
    const units: readonly string[] = UNIT_CHOICES[quantity];
    return [quantity, units.find((unit) => unit === told[quantity]) ?? UNIT_CHOICES[quantity][0]];
  });
  return Object.fromEntries(chosen) as ChosenUnits;
}
