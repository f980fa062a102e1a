// Raw windows of the invented sensors say what their readings say, and what is planted in them is found by the analysis.
import { describe, expect, test } from 'vitest';
import { SOUND, type Condition } from '../../simulators/faults.ts';
import { amountOf, angleOf } from '../../simulators/physics.ts';
import { makePlant } from '../../simulators/plant.ts';
import { prngOf } from '../../simulators/prng.ts';
import { noiselessSummary, trueSynchronous, type SensorMoment } from '../../simulators/sensor.ts';
import { isCutting, planShift, runsFrom } from '../../simulators/shift.ts';
import { waveAt } from '../../simulators/waveform.ts';
import { residualOf } from '../../simulators/bench-jobs.ts';
import { SHIFT_MS } from '../../simulators/tool-room.ts';
import { analyseWindow } from '../../shared/vibration/index.ts';
import type { WaveAnalysis } from '../../shared/wave-analysis.ts';

const plant = makePlant(1);
const SHIFT = Math.floor(Date.UTC(2026, 10, 24) / SHIFT_MS);

/** Moments of a spindle while it turns, in the air or in the cut. */
function moments(index: number, cutting: boolean, condition: Condition = SOUND): readonly SensorMoment[] {
  const spindle = plant.spindles[index];
  if (spindle === undefined) throw new Error(`no spindle ${index}`);
  return [0, 1, 2]
    .flatMap((more) => planShift(plant, SHIFT + more)[index] ?? [])
    .flatMap((load) => {
      const from = runsFrom(load) + 10_000;
      const at = [...Array(200).keys()].map((n) => from + n * 2000).find((one) => isCutting(load, one) === cutting);
      if (at === undefined || at > load.unloadAt - 15_000) return [];
      return [{ spindle, load, residualGmm: residualOf(plant, load.assembly, load.buildId), at, condition }];
    });
}

function analysed(moment: SensorMoment, phase = 0): WaveAnalysis {
  const wave = waveAt(moment, prngOf('test', moment.spindle.index, moment.at, phase));
  const counts = Buffer.from(wave.samples, 'base64');
  const accelerationMS2 = Float64Array.from(
    { length: counts.length / 2 },
    (_, n) => counts.readInt16LE(2 * n) * wave.scaleMS2,
  );
  const { sampleRateHz, speedRpm, tachoS, cutting, fullScaleMS2, scaleMS2 } = wave;
  return analyseWindow(
    {
      accelerationMS2,
      sampleRateHz,
      stepMS2: scaleMS2,
      ...(speedRpm === undefined ? {} : { speedRpm }),
      ...(tachoS === undefined ? {} : { tachoS }),
      ...(cutting === undefined ? {} : { cutting }),
      ...(fullScaleMS2 === undefined ? {} : { fullScaleMS2 }),
    },
    { bearings: moment.spindle.declared.bearings ?? [], teeth: moment.load?.assembly.teeth ?? 1 },
  );
}

const HEALTHY = plant.spindles.filter(({ flaw }) => flaw === undefined).map(({ index }) => index);

describe('a sound sensor on a sound spindle', () => {
  test.each(HEALTHY)('spindle %i: its window says the 1× part and the overall value that its readings say', (index) => {
    for (const moment of moments(index, false).slice(0, 3)) {
      const { overallMmS, orders, health } = analysed(moment);
      const { gain, tacho } = moment.spindle.sensor;
      const truth = trueSynchronous(moment);
      const once = orders.find(({ order }) => order === 1);
      expect(once?.velocityMmS).toBeCloseTo(amountOf(truth) * gain, 1);
      const said = noiselessSummary(moment).overallMmS;
      expect(Math.abs(overallMmS / said - 1)).toBeLessThan(0.15);
      expect(health).toEqual([]);
      if (!tacho || once?.phaseDeg === undefined || amountOf(truth) < 0.1) continue;
      const off = Math.abs(once.phaseDeg - angleOf(truth));
      expect(Math.min(off, 360 - off)).toBeLessThan(5);
    }
  });

  test('speaks of no bearing', () => {
    const spoke = HEALTHY.flatMap((index) =>
      moments(index, false).flatMap((moment) => analysed(moment).bearings.filter(({ speaks }) => speaks)),
    );
    expect(spoke).toEqual([]);
  });

  test('in the cut the teeth are heard', () => {
    for (const index of HEALTHY.slice(0, 4)) {
      for (const moment of moments(index, true).slice(0, 2)) {
        const { toothPassing, overallMmS } = analysed(moment);
        expect(toothPassing?.teeth).toBe(moment.load?.assembly.teeth);
        expect(toothPassing?.velocityMmS).toBeGreaterThan(0.3);
        expect(overallMmS).toBeGreaterThan(0.3);
      }
    }
  });
});

describe('what is planted', () => {
  test('a flaw too small for any reading speaks in the envelope of nearly every window', () => {
    const flawed = plant.spindles.find(({ flaw }) => flaw !== undefined);
    const windows = moments(flawed?.index ?? 0, false).map((moment) => analysed(moment));
    const speaking = windows.filter(({ bearings }) =>
      bearings.some(({ bearing, part, speaks }) => bearing === 'front' && part === 'outer' && speaks),
    );
    expect(windows.length).toBeGreaterThan(5);
    expect(speaking.length).toBeGreaterThan(0.8 * windows.length);
  });

  test.each([
    ['clipped', 'clipped'],
    ['flat', 'flat'],
    ['dead', 'flat'],
  ] as const)('a sensor that is %s is found out', (sensor, kind) => {
    for (const moment of moments(1, false, { ...SOUND, sensor }).slice(0, 3)) {
      expect(analysed(moment).health.map((finding) => finding.kind)).toContain(kind);
    }
  });

  test('a bearing that gets worse speaks', () => {
    const [moment] = moments(2, false, { ...SOUND, bearing: 2 });
    if (moment === undefined) throw new Error('it never turned in the air');
    expect(
      analysed(moment)
        .bearings.filter(({ speaks }) => speaks)
        .map(({ bearing }) => bearing),
    ).toContain('front');
  });
});
