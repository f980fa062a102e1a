// What the tests of the whole service send: one assembly, one spindle, numbers that a person can check by hand.
import type { SpindleDeclared } from '../../shared/acts.ts';

/** 1.2 kg at 18,000 rpm in G 2.5 may keep 1.59 g·mm (ISO 21940-11: 9549·G·m/n). */
export const BUILD = {
  assemblyId: 'A-1',
  buildId: 'B-1',
  massKg: 1.2,
  serviceSpeedRpm: 18_000,
  gradeMmS: 2.5,
  parts: [{ role: 'holder', name: 'holder of our own invention', markedMaxSpeedRpm: 25_000 }],
};

export const result = (residualGmm: number, more: Record<string, unknown> = {}): Record<string, unknown> => ({
  assemblyId: 'A-1',
  buildId: 'B-1',
  planes: [{ name: 'A', residualGmm, angleDeg: 30 }],
  error: { smallestAchievableGmm: 0.1 },
  ...more,
});

export const SPINDLES: readonly SpindleDeclared[] = ['S-1', 'S-2'].map((spindleId) => ({
  spindleId,
  machine: `invented machine of ${spindleId}`,
  cell: 'cell 1',
  maxSpeedRpm: 24_000,
  limits: [
    { quantity: 'overall', fromSpeedRpm: 1000, toSpeedRpm: 30_000, limitMmS: 2.8, source: 'invented for the tests' },
  ],
}));

export const load = (programmedSpeedRpm: number): Record<string, unknown> => ({
  spindleId: 'S-1',
  action: 'load',
  assemblyId: 'A-1',
  programmedSpeedRpm,
});
