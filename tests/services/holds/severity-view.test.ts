// What the spindle's page says of severity: a sentence with its source, a general table called one, and watch only for what lasts.
import { expect, test } from 'vitest';
import { SpindleView } from '../../../shared/views.ts';
import { declare, reading, running } from './invented-floor.ts';

const GENERAL = { abMmS: 1.4, bcMmS: 2.8, cdMmS: 4.5, source: 'general table (invented)', generic: true };

function declared(more: object): Record<string, unknown> {
  const act = declare('S-1');
  return { ...act, data: { ...(act['data'] as object), limits: [], ...more } };
}

const readings = (value: number, count: number) =>
  Array.from({ length: count }, (_, nth) => reading('S-1', value + (nth % 7) * 1e-4));

test('a general table is called one, in the bin and in the standing', async () => {
  const { append, keeper } = await running();
  await append([declared({ zones: GENERAL })]);
  await append(readings(1, 8));
  expect(keeper.spindleView('S-1')?.row.standing).not.toBe('watch');
  await append(readings(3.6, 30));
  const view = SpindleView.parse(keeper.spindleView('S-1'));
  const [bin] = view.severity.bins;
  expect(bin).toMatchObject({ against: 'zones', rung: 'C', boundaryMmS: 4.5, speedRpm: 18_000 });
  expect(bin?.words).toContain('zone C'.replace('z', 'Z'));
  expect(bin?.words).toContain('no standard of spindles');
  expect(view.row).toMatchObject({ standing: 'watch' });
  expect(view.row.why).toMatch(
    /^its overall vibration at about 18,000 rpm is 3\.\d+ mm\/s: zone C, up to 4\.5 mm\/s, of “general/,
  );
  expect(view.row.why).toContain('no standard of spindles');
  expect(view.severity.history.map(({ from, to }) => `${from ?? ''}${to}`)).toEqual(['BC', 'AB']);
  expect(view.severity.zones).toMatchObject({ generic: true, enteredBy: 'Ada' });
  expect(view.severity.nowBin).toBe(bin?.speedBin);
});

test('beside a level over the limit nothing says that it is within, though it is not for long enough yet to be a move', async () => {
  const { append, keeper } = await running();
  const limit = { quantity: 'overall', fromSpeedRpm: 1000, toSpeedRpm: 24_000, limitMmS: 2.8, source: 'invented' };
  await append([declared({ limits: [limit] })]);
  await append(readings(1, 20));
  expect(keeper.spindleView('S-1')?.severity.bins[0]?.words).toMatch(/^Within the limit of 2\.8 mm\/s\./);
  await append(readings(12, 4));
  const bin = keeper.spindleView('S-1')?.severity.bins[0];
  expect(bin?.levelMmS).toBeGreaterThan(2.8);
  expect(bin).toMatchObject({ rung: 'within', levelRung: 'over' });
  expect(bin?.words).toMatch(
    /^Over the limit of 2\.8 mm\/s: its level lies there by now, not for long enough yet to go on record; on record is within/,
  );
  await append(readings(12, 4));
  expect(keeper.spindleView('S-1')?.severity.bins[0]?.words).toMatch(/^Over the limit of 2\.8 mm\/s\. /);
});

test('what is usual is learned first, and a change of the spindle is worth a look while it lasts', async () => {
  const { append, keeper } = await running();
  await append([declared({})]);
  await append(readings(1, 100));
  expect(keeper.spindleView('S-1')?.severity.bins[0]).toMatchObject({ learning: { readings: 100 } });
  await append(readings(1, 420));
  expect(keeper.spindleView('S-1')?.severity.bins[0]?.usual).toMatchObject({
    stepIs: 'usual',
    rung: 'usual',
  });
  await append(readings(1.6, 540));
  const row = keeper.spindleView('S-1')?.row;
  expect(row?.why).toBe(
    'its overall vibration at about 18,000 rpm is 1.6 mm/s: risen from 1 mm/s by more than 0.25 mm/s, 25 % of what was usual',
  );
  // A week later that is history.
  await append([{ kind: 'tick' }], 8 * 86_400_000);
  await append([
    { ...reading('S-1', 1), data: { spindleId: 'S-1', speedRpm: 9000, overallMmS: 1, synchronousMmS: 0.5 } },
  ]);
  expect(keeper.spindleView('S-1')?.row.why).not.toContain('risen');
});

test('what was declared is told whole, so that a part can be declared anew', async () => {
  const { append, keeper } = await running();
  await append([declared({ zones: GENERAL, measuredChannel: 'x' })]);
  expect(keeper.spindleView('S-1')?.declared).toMatchObject({
    spindleId: 'S-1',
    machine: 'machine 1',
    zones: GENERAL,
    measuredChannel: 'x',
    by: 'Ada',
  });
});
