// The ratio is one of medians: a slow run of either side does not move it.
import { expect, test } from 'vitest';
import { ratiosOf, type BrokerRun } from './broker-ratio.ts';

const run = (variant: BrokerRun['variant'], perSecond: number, cpuUsPerMessage: number): BrokerRun => ({
  variant,
  perSecond,
  cpuUsPerMessage,
  p50: 1,
  p99: 2,
});

test('ratios are those of the medians of each variant', () => {
  const runs = [
    run('bare', 100, 6),
    run('ours', 90, 5),
    run('ours-later', 80, 5),
    run('bare', 10, 60),
    run('ours', 110, 5),
    run('ours-later', 85, 4),
    run('bare', 120, 6),
    run('ours', 5, 50),
    run('ours-later', 95, 6),
  ];
  expect(ratiosOf(runs)).toMatchObject([
    { variant: 'bare', perSecond: 100, ratio: 1, cpuRatio: 1 },
    { variant: 'ours', perSecond: 90, ratio: 0.9, cpuRatio: 1.2 },
    { variant: 'ours-later', perSecond: 85, ratio: 0.85, cpuRatio: 1.2 },
  ]);
});
