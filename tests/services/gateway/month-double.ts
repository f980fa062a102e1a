// A month in which nothing happened, for a gateway without a plant.
import type { MonthHappened, MonthHours } from '../../../shared/month.ts';
import { monthSpan } from '../../../shared/month-span.ts';

export const hoursOf = (month: string, now: number): MonthHours => ({
  month,
  zone: 'UTC',
  now,
  spindles: 1,
  ...monthSpan(month, 'UTC')!,
  hours: { from: now, to: now, cutHours: 0, awayHours: 0 },
});

const none = { raised: 0, ended: 0, open: 0 };
const noRows = { of: 0, rows: [] };

export const nothingHappened = (): Promise<MonthHappened> =>
  Promise.resolve({
    holds: { openBefore: 0, ...none, byReason: [], byCause: [], toTake: { of: 0 }, toEnd: { of: 0 } },
    deviations: noRows,
    voids: noRows,
    mostHeld: noRows,
    truth: { of: 0, confirmed: 0, nothingFound: 0, inError: 0, unsaid: 0, named: { of: 0, right: 0 } },
    corrections: { assemblies: 0, tries: 0, first: { of: 0, within: 0, exceeds: 0, unknown: 0 } },
    checks: [],
    silent: { ...noRows, ms: 0 },
    limits: noRows,
    ahead: { ...noRows, reached: 0, moved: 0, takenBack: 0, notReached: 0 },
  });
