// Speed and 1× of real recordings: found beside the speed that was told, never another one where none was, 1× by unbalance and speed.
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { analyseWindow } from '../../../shared/vibration/index.ts';
import { say } from '../balance/referee.ts';

/** Recordings of a rotor bench by Analog Devices, Inc., see the folder's README. */
const FOLDER = new URL('./measured/adi-cbm-motor/', import.meta.url);
const G = 9.80665;
const RATE_HZ = 20_000;
/** The speed is nominal: the motor's own is within a percent and a half of it. */
const NOMINAL_WITHIN = 0.015;

interface Recording {
  readonly rpm: number;
  readonly bearing: string;
  readonly unbalanceLevel: number;
  readonly oneX_amp_of_full?: number;
  readonly expected?: { readonly full_40000: { readonly oneX: { readonly amp: number } } };
}
const { files } = JSON.parse(readFileSync(new URL('expected.json', FOLDER), 'utf8')) as {
  readonly files: Readonly<Record<string, Recording>>;
};

function samplesOf(name: string): Float64Array {
  const bytes = readFileSync(new URL(name, FOLDER));
  const floats = new Float32Array(bytes.buffer, bytes.byteOffset, bytes.byteLength / 4);
  return Float64Array.from(floats, (g) => g * G);
}

/** Peak acceleration of 1× in g. */
function oneX(name: string, rpm: number): number {
  const [first] = analyseWindow({ accelerationMS2: samplesOf(name), sampleRateHz: RATE_HZ, speedRpm: rpm }).orders;
  return (Math.SQRT2 * (first?.velocityMmS ?? 0) * 2 * Math.PI * (first?.frequencyHz ?? 0)) / 1e3 / G;
}

test.each(Object.entries(files))('%s turns at its speed', (name, { rpm, bearing, unbalanceLevel }) => {
  const window = { accelerationMS2: samplesOf(name), sampleRateHz: RATE_HZ };
  const told = analyseWindow({ ...window, speedRpm: rpm });
  expect(told.speedFrom).toBe('refined');
  expect(Math.abs((told.speedRpm ?? 0) / rpm - 1)).toBeLessThan(NOMINAL_WITHIN);
  const untold = [analyseWindow(window), analyseWindow({ ...window, cutting: false })];
  const speeds = untold.flatMap((it) => it.speedRpm ?? []);
  say(
    `${name}: ${bearing}, unbalance ${unbalanceLevel}, nominal ${rpm} rpm; told ${told.speedRpm?.toFixed(1)}, ` +
      `untold ${speeds.map((it) => it.toFixed(1)).join(' and ') || 'unknown'}`,
  );
  // Unknown is an answer; another speed is not.
  for (const speed of speeds) expect(Math.abs(speed / rpm - 1)).toBeLessThan(NOMINAL_WITHIN);
});

test('1× is that of the reference, which reads a line and not between two', () => {
  for (const [name, { rpm, unbalanceLevel, expected, oneX_amp_of_full: ofFull }] of Object.entries(files)) {
    if (unbalanceLevel === 0) continue;
    const reference = expected?.full_40000.oneX.amp ?? ofFull ?? Number.NaN;
    const ratio = oneX(name, rpm) / reference;
    say(`${name}: 1× ${ratio.toFixed(3)} of the reference, ${reference.toFixed(4)} g`);
    // Of a quarter of the row (at 600 rpm five turns), whose unbalance is not quite that of the whole; a line reads up to 15 % too low between two.
    expect(ratio, name).toBeGreaterThan(0.9);
    expect(ratio, name).toBeLessThan(1.08);
  }
});

test('1× rises with each class of unbalance at one speed', () => {
  const classes = Object.entries(files)
    .filter(([name, it]) => it.rpm === 1800 && it.bearing === 'good bearing' && name.includes('_x'))
    .toSorted(([, a], [, b]) => a.unbalanceLevel - b.unbalanceLevel)
    .map(([name]) => oneX(name, 1800));
  expect(classes).toHaveLength(5);
  for (let i = 1; i < classes.length; i += 1) expect(classes[i]).toBeGreaterThan(classes[i - 1]!);
});
