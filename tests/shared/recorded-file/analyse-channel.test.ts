// A recording as a whole: reference results of a real one through each form of file, windows of a long one, what is said of it.
import { describe, expect, test } from 'vitest';
import { Bearing } from '../../../shared/bearing.ts';
import {
  analyseChannel,
  bearingSentence,
  cannotTell,
  channelSentence,
  healthSentence,
  readRecordedFile,
  speedWords,
  STANDARD_GRAVITY_MS2,
  type ChannelAnalysis,
  type FileChannel,
  type ReadingChoices,
} from '../../../shared/recorded-file/index.ts';
import { asTable, asWave, expectedOf, FULL_SCALE_G } from './measured-recording.ts';
import { noiseOf, waveFile } from './written-file.ts';

const UNBALANCED = '1800_GoB_GS_VHIL_WA_00lb_x.f32';
const OUTER_RACE = '1800_HOR_GS_BaLo_WA_00lb_x.f32';
const FULL_SCALE: ReadingChoices = { fullScaleMS2: FULL_SCALE_G * STANDARD_GRAVITY_MS2 };

function firstOf(bytes: Uint8Array, choices: ReadingChoices = {}): FileChannel {
  const file = readRecordedFile(bytes, choices);
  if (file.kind !== 'read' || file.channels[0] === undefined) throw new Error('was not read');
  return file.channels[0];
}

describe('reference results of a real recording, through', () => {
  const { stats, full_40000: full } = expectedOf(UNBALANCED);
  // Largest relative difference: of a table none; of a WAV file what its counts lose, here of 8 % of the full scale in use.
  test.each([
    ['a table', asTable([UNBALANCED]), {}, 1e-9],
    ['a WAV file of 24 bits', asWave([UNBALANCED], 24), FULL_SCALE, 1e-6],
    ['a WAV file of 16 bits', asWave([UNBALANCED], 16), FULL_SCALE, 2e-4],
    [
      'a WAV file of floating point',
      asWave([UNBALANCED], 32, 'floating'),
      { fullScaleMS2: STANDARD_GRAVITY_MS2 },
      1e-9,
    ],
  ])('%s', (_, bytes, choices, allowed) => {
    const { told, usable } = analyseChannel(firstOf(bytes, choices), { speedRpm: 1800, settings: {} });
    expect(usable).toBe(1);
    const off = [
      [told?.overallMmS.median, full.vel_rms_mm_s],
      [told?.accelerationRmsMS2.median, stats.rms * STANDARD_GRAVITY_MS2],
      [told?.accelerationPeakMS2.median, stats.peak * STANDARD_GRAVITY_MS2],
      [told?.kurtosis.median, stats.kurtosis],
    ].map(([ours = 0, theirs = 0]) => Math.abs(ours / theirs - 1));
    expect(Math.max(...off)).toBeLessThan(allowed);
  });
});

test('without a unit: ratios, frequencies and the speed hold; of levels it is said that there are none', () => {
  const question = { settings: {} };
  const relative = analyseChannel(firstOf(asWave([UNBALANCED], 24)), question);
  const scaled = analyseChannel(firstOf(asWave([UNBALANCED], 24), FULL_SCALE), question);
  const share = (of: ChannelAnalysis): number =>
    (of.told?.orders[0]?.velocityMmS.median ?? 0) / (of.told?.overallMmS.median ?? 0);
  expect(share(relative)).toBeCloseTo(share(scaled), 12);
  expect(cannotTell(relative, question)[0]).toContain('no unit');
  expect(cannotTell(scaled, question)[0]).toBe(
    'Whether it is permitted: no limit of the machine’s maker is known here.',
  );
  expect(speedWords(relative, question)).toMatch(
    /^about 1,803 rpm \(within 30 rpm, one line of a window\), found in the signal, not told/,
  );
  expect(cannotTell(relative, question).join()).toContain('tell the speed that the machine showed');
});

test('a speed that only some windows have, or other windows have another of, is said with it', () => {
  const whole = analyseChannel(firstOf(asTable([UNBALANCED])), { settings: {} });
  const [one] = whole.windows;
  if (one === undefined || whole.told === undefined) throw new Error('expected a window');
  const at = (speedRpm: number | undefined) => {
    const { speedRpm: _found, ...analysis } = one.analysis;
    return { ...one, analysis: { ...analysis, ...(speedRpm === undefined ? {} : { speedRpm }) } };
  };
  const saysOf = (...speeds: (number | undefined)[]): string =>
    speedWords({ ...whole, windows: speeds.map(at), told: { ...whole.told!, middle: 0 } }, { settings: {} });
  expect(saysOf(undefined, undefined)).toBe('not known: no order could be found');
  expect(saysOf(undefined, 5996, 5990)).toBe(
    'not known in the window told of; 2 of 3 windows have lines as of 5,996 rpm: tell the speed that the machine showed',
  );
  expect(saysOf(2998, 5996, 8990)).toMatch(/; 2 of 3 windows have lines as of 5,996 rpm to 8,990 rpm: tell the speed/);
  expect(saysOf(2998, 2990, undefined)).not.toContain('windows ha');
});

const BEARING = Bearing.parse({
  name: 'rear',
  source: 'invented',
  multiples: { cage: 0.381, outer: 3.048, inner: 4.952, rolling: 1.98 },
});

test('a damaged outer race speaks, a good one does not', () => {
  const question = { speedRpm: 1800, settings: { bearings: [BEARING], envelopeBandHz: [2000, 6000] as const } };
  const of = (name: string) => {
    const analysis = analyseChannel(firstOf(asTable([name])), question);
    const outer = analysis.told?.bearings.find(({ part }) => part === 'outer');
    return outer === undefined ? '' : bearingSentence(outer, analysis.windows.length);
  };
  expect(of(OUTER_RACE)).toMatch(/^The outer race of the bearing rear speaks: 91\.\d Hz/);
  expect(of(UNBALANCED)).toContain('does not speak');
});

const RATE_HZ = 2000;
const SHAFT_HZ = 25;

/** A shaft that shakes more from second to second, in noise. */
function rising(seconds: number): FileChannel {
  const noise = noiseOf(seconds * RATE_HZ);
  return {
    name: 'front',
    sampleRateHz: RATE_HZ,
    scaled: true,
    unitWords: 'm/s²',
    accelerationMS2: noise.map((value, i) => {
      const t = i / RATE_HZ;
      return 0.05 * value + (1 + t / 10) * Math.sin(2 * Math.PI * SHAFT_HZ * t);
    }),
  };
}

test('a band that begins at 1× takes a part of it away, and that is said', () => {
  const slow = {
    ...rising(6),
    accelerationMS2: noiseOf(6 * RATE_HZ).map((value, i) => 0.01 * value + Math.sin((2 * Math.PI * 10 * i) / RATE_HZ)),
  };
  const told = (velocityBandHz?: readonly [number, number]): string => {
    const question = { speedRpm: 600, settings: velocityBandHz === undefined ? {} : { velocityBandHz } };
    return cannotTell(analyseChannel(slow, question), question).join();
  };
  expect(told([10, 1000])).toContain('its band begins at 10 Hz, and 1× stands at 10 Hz. Tell a band that begins lower');
  expect(told([2, 900])).not.toContain('its band begins');
  // Nobody told one: it begins low enough by itself.
  expect(told()).not.toContain('its band begins');
});

describe('a long recording', () => {
  const question = { speedRpm: 60 * SHAFT_HZ, settings: {} };

  test('up to eight seconds it is one window', () => {
    expect(analyseChannel(rising(8), question).windows).toHaveLength(1);
  });

  test('beyond, windows of four seconds end to end; the median, the greatest, and when', () => {
    const done: string[] = [];
    const analysis = analyseChannel(rising(40), question, (at, of) => done.push(`${at}/${of}`));
    expect(analysis.windows.map(({ fromS, toS }) => [fromS, toS])).toEqual(
      Array.from({ length: 10 }, (_, i) => [4 * i, 4 * i + 4]),
    );
    expect(done.at(-1)).toBe('10/10');
    expect(analysis.leftOut).toBe(0);
    // RMS velocity of (1 + t/10)·sin at the middle of a window: the median of ten lies between the fifth and the sixth.
    const mmS = (t: number): number => (1000 * (1 + t / 10)) / Math.SQRT2 / (2 * Math.PI * SHAFT_HZ);
    expect(analysis.told?.orders[0]?.velocityMmS.median).toBeCloseTo(mmS(20), 1);
    expect(analysis.told?.orders[0]?.velocityMmS.greatest).toBeCloseTo(mmS(38), 1);
    expect(analysis.told?.overallMmS.greatestAtS).toBe(36);
    expect(analysis.told?.middle).toBe(4);
    expect(analysis.told?.greatest).toBe(9);
  });

  test('what does not fit exactly overlaps: nothing is left out', () => {
    const { windows, leftOut } = analyseChannel(rising(11), question);
    expect(windows.map(({ fromS, toS }) => [fromS, toS])).toEqual([
      [0, 4],
      [3.5, 7.5],
      [7, 11],
    ]);
    expect(leftOut).toBe(0);
  });

  test('beyond sixty-four windows they are spread evenly, and what lies between is said', () => {
    const analysis = analyseChannel(rising(400), question);
    expect(analysis.windows).toHaveLength(64);
    expect([analysis.windows[0]?.fromS, analysis.windows.at(-1)?.toS]).toEqual([0, 400]);
    expect(cannotTell(analysis, question).join()).toContain('36 % of the recording lies between them');
  });
});

describe('a signal that cannot be used', () => {
  const question = { speedRpm: 60 * SHAFT_HZ, settings: {} };
  const dead = (channel: FileChannel, fromS: number, toS: number): FileChannel => ({
    ...channel,
    accelerationMS2: channel.accelerationMS2.map((value, i) => (i >= fromS * RATE_HZ && i < toS * RATE_HZ ? 0 : value)),
  });

  test('all of it: its numbers are withheld, and why is the first thing said', () => {
    const analysis = analyseChannel(dead(rising(4), 0, 4), question);
    expect(analysis.usable).toBe(0);
    expect(analysis).not.toHaveProperty('told');
    expect(channelSentence(analysis)).toBe('The numbers of front are not to be used; none is shown.');
    expect(analysis.health.map((one) => healthSentence(one, analysis)).join()).toMatch(/^Not to be used: /);
  });

  test('a part of it: the other windows are told, and how many', () => {
    const analysis = analyseChannel(dead(rising(20), 8, 12), question);
    expect(analysis.usable).toBe(4);
    expect(channelSentence(analysis)).toBe('Of 5 windows of front, 4 can be used; the numbers are of these alone.');
    expect(analysis.health[0]).toMatchObject({ weight: 'unusable', windows: 1, firstAtS: 8 });
  });

  test('a WAV file that was driven to its end is known without a scale, and no unit is named', () => {
    const noise = noiseOf(4000);
    const clipped = noise.map((value, i) => Math.max(-1, Math.min(1, 0.1 * value + 1.4 * Math.sin(i / 10))));
    const file = waveFile({ sampleRateHz: RATE_HZ, channels: [clipped], bits: 16, coding: 'whole' });
    const analysis = analyseChannel(firstOf(file), question);
    const words = analysis.health.map((one) => healthSentence(one, analysis)).join();
    expect(words).toContain('the peaks are cut off');
    expect(words).not.toContain('m/s²');
  });
});
