// What a bench is told of its result in words. 1.2 kg at 18,000 rpm and G 2.5 may keep 1.592 g·mm (ISO 21940-11).
import { expect, test } from 'vitest';
import { build, result, running } from './invented-floor.ts';

type Told = Record<string, unknown> & { readonly data: object };

const answerTo = (keeper: Awaited<ReturnType<typeof running>>['keeper'], position: number) =>
  keeper.benchAnswer({ position, device: 'bench-1', id: 'r', assemblyId: 'A-1', runId: undefined })?.answer;

const correction = {
  kind: 'correction',
  device: 'bench-1',
  data: { assemblyId: 'A-1', buildId: 'b1', steps: [{ featureId: 'collar', angleDeg: 40 }] },
};

test('a result that does not count: another one does, or none, or its build is an older one', async () => {
  const { append, keeper } = await running();
  await append([build('A-1'), result('A-1', 0.4)]);
  expect(answerTo(keeper, 2)?.remarks.join()).not.toContain('on record');
  await append([result('A-1', 0.5)]);
  expect(answerTo(keeper, 2)?.remarks).toContain('this result is on record; another one counts for its build');
  await append([correction]);
  expect(answerTo(keeper, 3)?.remarks).toContain(
    'this result is on record and does not count; none counts for its build until it is measured again',
  );
  const again = build('A-1') as Told;
  await append([{ ...again, data: { ...again.data, buildId: 'b2' } }]);
  expect(answerTo(keeper, 3)?.remarks).toContain('this result is on record; build b2 is newer than its own');
});

test('what exceeds in one plane is told with the figures of that plane', async () => {
  const { append, keeper } = await running();
  const measured = result('A-1', 1) as Told;
  const planes = [
    { name: 'A', residualGmm: 0.1, angleDeg: 0 },
    { name: 'B', residualGmm: 1.2, angleDeg: 180 },
  ];
  await append([build('A-1'), { ...measured, data: { ...measured.data, planes } }]);
  // Half of what is permissible each, where nothing tells better: 0.796 g·mm, of which 1.2 g·mm are 1.5 times as much.
  expect(answerTo(keeper, 2)?.sentence).toBe(
    'A-1 exceeds in its second plane: 1.5 times what is permissible; 1.2 g·mm there, measuring error 0.1 g·mm; ' +
      '0.796 g·mm are permissible there for G 2.5 at 18,000 rpm. Correct it and measure again.',
  );
});

test('a failed test of the bench is told within a sentence', async () => {
  const { append, keeper } = await running();
  const readings = Array.from({ length: 12 }, (_, nth) => ({ angleDeg: nth * 30, amountGmm: nth < 3 ? 9 : 6 }));
  const test1 = { test: 'minimum-achievable', testId: 'T-1', rotorSerial: 'P-1', claimedGmm: 0.3, testMassGmm: 3 };
  await append([build('A-1'), { kind: 'test', device: 'bench-1', data: { ...test1, readings } }]);
  expect(keeper.toolRoomView(Date.UTC(2026, 10, 25)).benches[0]?.sentence).toBe(
    'In doubt: the test of the minimum achievable residual failed as the claim of 0.3 g·mm is not shown; ' +
      '3 of 12 readings outside ±12 % of their mean, one may be.',
  );
});
