// What would decide is never an experiment about a cause that is ruled out already.
import { expect, test } from 'vitest';
import type { CauseFinding } from '../../shared/causes.ts';
import { experimentsLeft } from '../../shared/experiment-words.ts';

const experiments: CauseFinding['experiments'] = [
  { kind: 'measure-on-other-bench', bits: 0.7 },
  { kind: 'clamp-again', bits: 0.7 },
  { kind: 'check-sensor', bits: 0.2 },
  { kind: 'prove-bench', bits: 0.1 },
];
const left = (...causes: CauseFinding['ruledOut'][number]['cause'][]): string[] =>
  experimentsLeft({ experiments, ruledOut: causes.map((cause) => ({ cause, why: 'invented' })) }).map(
    ({ kind }) => kind,
  );

test('all of them while nothing is ruled out, in their order', () => {
  expect(left()).toEqual(['measure-on-other-bench', 'clamp-again', 'check-sensor', 'prove-bench']);
});

test('none of a bench or a sensor that is ruled out; what tells other causes stays', () => {
  expect(left('bench')).toEqual(['clamp-again', 'check-sensor']);
  expect(left('sensor', 'bearing')).toEqual(['measure-on-other-bench', 'clamp-again', 'prove-bench']);
  expect(left('clamping')).toHaveLength(4);
});
