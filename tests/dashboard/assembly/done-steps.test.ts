import { expect, test } from 'vitest';
import { doneSteps, fieldsOf, type DoneStep } from '../../../dashboard/assembly/done-steps.ts';
import type { AdviceStep } from '../../../shared/advice.ts';

const effect = { gmm: 1, angleDeg: 0 };
const drill: AdviceStep = {
  kind: 'radial-holes',
  featureId: 'collar',
  plane: 'I',
  angleDeg: 302,
  diameterMm: 6,
  depthMm: 4.1,
  effect,
  words: 'drill',
};
const ring: AdviceStep = { kind: 'rings', featureId: 'rings', ring: 2, angleDeg: 40, effect, words: 'turn' };

const typed = (step: AdviceStep, numbers: Record<string, string>, done = true): DoneStep => ({
  step,
  done,
  typed: numbers,
});

test('what was typed is sent as it was set, with the place, plane and ring of its step', () => {
  const rows = [typed(drill, { angleDeg: '303', diameterMm: '6', depthMm: '4,3' }), typed(ring, { angleDeg: '41.5' })];
  expect(doneSteps(rows)).toEqual({
    kind: 'read',
    steps: [
      { featureId: 'collar', plane: 'I', angleDeg: 303, diameterMm: 6, depthMm: 4.3 },
      { featureId: 'rings', ring: 2, angleDeg: 41.5 },
    ],
  });
});

test('a step that was left out is not sent; none at all is said', () => {
  const rows = [
    typed(drill, { angleDeg: '303', diameterMm: '6', depthMm: '4' }, false),
    typed(ring, { angleDeg: '4' }),
  ];
  expect(doneSteps(rows)).toMatchObject({ kind: 'read', steps: [{ featureId: 'rings' }] });
  expect(doneSteps([typed(ring, { angleDeg: '4' }, false)])).toMatchObject({ kind: 'wrong' });
});

test.each([['deep'], [''], ['-3'], ['1e999']])('a depth of “%s” is said to be none, with its step', (depthMm) => {
  const read = doneSteps([typed(drill, { angleDeg: '303', diameterMm: '6', depthMm })]);
  expect(read).toMatchObject({ kind: 'wrong', why: expect.stringContaining('Step 1') as string });
});

test('only what a step has can be typed', () => {
  expect(fieldsOf(drill)).toEqual(['angleDeg', 'diameterMm', 'depthMm']);
  expect(fieldsOf(ring)).toEqual(['angleDeg']);
});
