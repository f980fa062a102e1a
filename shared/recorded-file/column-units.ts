// What a column of a table is, by its head: time, acceleration, volts of a sensor, a count, or something that is left out.

/** m/s² per g. ISO 80000-3:2019, standard acceleration of free fall. */
export const STANDARD_GRAVITY_MS2 = 9.80665;

export type ColumnKind =
  | { readonly kind: 'time'; readonly secondsPer: number }
  | { readonly kind: 'acceleration'; readonly ms2Per: number }
  | { readonly kind: 'volts'; readonly mvPer: number }
  | { readonly kind: 'count' }
  | { readonly kind: 'speed' }
  /** Has a unit that is none of acceleration. */
  | { readonly kind: 'other' }
  | { readonly kind: 'no unit' };

export interface Column {
  readonly name: string;
  /** As it stands in the head; '' where there is none. */
  readonly unit: string;
  readonly is: ColumnKind;
}

const acceleration = (ms2Per: number): ColumnKind => ({ kind: 'acceleration', ms2Per });
const time = (secondsPer: number): ColumnKind => ({ kind: 'time', secondsPer });
const OTHER: ColumnKind = { kind: 'other' };

/** By the unit's plain form. Inch and foot: exact by definition, as in ISO 80000-3. */
const UNITS: Readonly<Record<string, ColumnKind>> = {
  g: acceleration(STANDARD_GRAVITY_MS2),
  G: acceleration(STANDARD_GRAVITY_MS2),
  gn: acceleration(STANDARD_GRAVITY_MS2),
  "g's": acceleration(STANDARD_GRAVITY_MS2),
  mg: acceleration(STANDARD_GRAVITY_MS2 / 1000),
  'm/s2': acceleration(1),
  'm/s/s': acceleration(1),
  'm/sec2': acceleration(1),
  'ms-2': acceleration(1),
  'mm/s2': acceleration(1e-3),
  'cm/s2': acceleration(1e-2),
  'um/s2': acceleration(1e-6),
  'in/s2': acceleration(0.0254),
  'ft/s2': acceleration(0.3048),
  V: { kind: 'volts', mvPer: 1000 },
  volt: { kind: 'volts', mvPer: 1000 },
  volts: { kind: 'volts', mvPer: 1000 },
  mV: { kind: 'volts', mvPer: 1 },
  uV: { kind: 'volts', mvPer: 1e-3 },
  s: time(1),
  sec: time(1),
  seconds: time(1),
  ms: time(1e-3),
  msec: time(1e-3),
  us: time(1e-6),
  min: time(60),
  rpm: { kind: 'speed' },
  RPM: { kind: 'speed' },
  '1/min': { kind: 'speed' },
  'min-1': { kind: 'speed' },
  'r/min': { kind: 'speed' },
  'mm/s': OTHER,
  'in/s': OTHER,
  'm/s': OTHER,
  um: OTHER,
  mm: OTHER,
  mil: OTHER,
  Hz: OTHER,
  '°C': OTHER,
  '°F': OTHER,
  K: OTHER,
  A: OTHER,
  mA: OTHER,
  N: OTHER,
  Nm: OTHER,
  Pa: OTHER,
  kPa: OTHER,
  bar: OTHER,
  W: OTHER,
  kW: OTHER,
  '%': OTHER,
  dB: OTHER,
  deg: OTHER,
  '°': OTHER,
};

/** English, German, French, Spanish, Italian, Portuguese. */
const TIME_NAMES = /^(?:time|t|timestamp|zeit|temps|tiempo|tempo)\b/iu;
const COUNT_NAMES =
  /^(?:#|n|nr|no|i|index|idx|sample|samples|count|row|point|line)\.?(?: ?(?:no|nr|number|index)\.?)?$/iu;
const SPEED_NAMES = /\b(?:rpm|speed|drehzahl|tacho)\b/iu;

/** Names and units, from one line of the head or from two. */
export function columnOf(head: string, unitBelow = ''): Column {
  const whole = head.trim();
  const below = unitBelow.trim().replaceAll(/^[[(]|[\])]$/gu, '');
  const { name, unit } = below === '' ? nameAndUnit(whole) : { name: whole, unit: below };
  return { name, unit, is: kindOf(name, unit) };
}

function kindOf(name: string, unit: string): ColumnKind {
  const known = unitKind(unit);
  if (known !== undefined) return known;
  if (unit !== '') return OTHER;
  if (TIME_NAMES.test(name)) return time(1);
  if (COUNT_NAMES.test(name)) return { kind: 'count' };
  if (SPEED_NAMES.test(name)) return { kind: 'speed' };
  return { kind: 'no unit' };
}

export function unitKind(unit: string): ColumnKind | undefined {
  const plain = unit
    .trim()
    .replaceAll(/[µμ]/gu, 'u')
    .replaceAll('²', '2')
    .replaceAll('⁻', '-')
    .replaceAll(/[\^*·\s]/gu, '');
  return Object.hasOwn(UNITS, plain) ? UNITS[plain] : undefined;
}

const IN_BRACKETS = /^(.*?)[\s_]*(?:\[([^\]]*)\]|\(([^)]*)\))$/u;
const AFTER_A_MARK = /^(.+?)\s*(?:\s\/|,|:|\bin\b)\s*(\S+)$/u;
const LAST_WORD = /^(.+?)[\s_]+([^\s_]+)$/u;

/** "Acc X [g]", "Acc X (m/s²)", "Acc X / g", "Acc X, g", "Acc X in g", "Acc X g", or the unit alone. */
function nameAndUnit(head: string): { name: string; unit: string } {
  // A lone capital is rather a channel's letter than a unit.
  const alone = /^\p{Lu}$/u.test(head) ? undefined : unitKind(head);
  if (alone !== undefined && !TIME_NAMES.test(head)) return { name: head, unit: head };
  const inBrackets = IN_BRACKETS.exec(head);
  if (inBrackets !== null)
    return { name: (inBrackets[1] ?? '').trim() || head, unit: (inBrackets[2] ?? inBrackets[3] ?? '').trim() };
  for (const form of [AFTER_A_MARK, LAST_WORD]) {
    const [, name = '', unit = ''] = form.exec(head) ?? [];
    if (unitKind(unit) !== undefined && !(form === LAST_WORD && /^\p{Lu}$/u.test(unit)))
      return { name: name.trim(), unit };
  }
  return { name: head, unit: '' };
}
