// Work that was planned stays to be read on the spindle's report after its time is over.
import { expect, test } from 'vitest';
import { spindleView } from '../../../services/holds/views/spindle-view.ts';
import { play } from '../rules/play.ts';

test('work of which the time is over is no longer planned, and is remembered with who and why', () => {
  const { floor } = play(`
    06:00 limit   S-1 overall 4.5 from 1000 to 24000
    06:10 work    S-1 W-1 from 07:00 until 09:00 "bearing changed"
    06:20 work    S-1 W-2 from 10:00 until 11:00 "drawbar looked at"
    09:30 tick
  `);
  const view = spindleView(floor, floor.spindles.get('S-1')!);
  expect(view.work?.map(({ workId }) => workId)).toEqual(['W-2']);
  expect(view.workBefore).toMatchObject([{ workId: 'W-1', note: 'bearing changed', by: 'Ada-Invented', now: false }]);
});
