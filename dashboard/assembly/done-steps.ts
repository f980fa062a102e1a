// What a person typed about the steps, read as numbers; the first thing that is none is said. Pure.
import type { AdviceStep } from '../../shared/advice.ts';
import type { CorrectionStep } from '../../shared/messages/index.ts';
import { say } from '../../shared/language/index.ts';
import { typedNumber } from '../wording/typed-number.ts';

export const FIELDS = ['angleDeg', 'diameterMm', 'depthMm', 'massG'] as const;
export type DoneField = (typeof FIELDS)[number];

export const FIELD_WORDS: Readonly<Record<DoneField, string>> = {
  angleDeg: say`Angle, °`,
  diameterMm: say`Drill ⌀, mm`,
  depthMm: say`Depth, mm`,
  massG: say`Mass, g`,
};

const NO_NUMBER: Readonly<Record<DoneField, (typed: string) => string>> = {
  angleDeg: (typed) => say`“${typed}” is no angle, °.`,
  diameterMm: (typed) => say`“${typed}” is no drill ⌀, mm.`,
  depthMm: (typed) => say`“${typed}” is no depth, mm.`,
  massG: (typed) => say`“${typed}” is no mass, g.`,
};

export interface DoneStep {
  readonly step: AdviceStep;
  readonly done: boolean;
  readonly typed: Readonly<Partial<Record<DoneField, string>>>;
}

/** The numbers that a step of its kind has. */
export function fieldsOf(step: AdviceStep): readonly DoneField[] {
  return FIELDS.filter((field) => step[field] !== undefined);
}

export type DoneRead =
  | { readonly kind: 'read'; readonly steps: CorrectionStep[] }
  | { readonly kind: 'wrong'; readonly why: string };

export function doneSteps(rows: readonly DoneStep[]): DoneRead {
  const done = rows.filter((row) => row.done);
  if (done.length === 0)
    return { kind: 'wrong', why: say`No step is ticked: nothing was done, so there is nothing to record.` };
  const steps: CorrectionStep[] = [];
  for (const row of done) {
    const read = doneStep(row);
    if (read.kind === 'wrong') return { kind: 'wrong', why: say`Step ${rows.indexOf(row) + 1}: ${read.why}` };
    steps.push(read.step);
  }
  return { kind: 'read', steps };
}

export type StepRead =
  | { readonly kind: 'read'; readonly step: CorrectionStep }
  | { readonly kind: 'wrong'; readonly why: string };

export function doneStep({ step: { angleDeg: advisedDeg, ...step }, typed }: DoneStep): StepRead {
  const numbers: Partial<Record<DoneField, number>> = {};
  for (const field of fieldsOf({ ...step, angleDeg: advisedDeg })) {
    const text = (typed[field] ?? '').trim();
    const read = typedNumber(text);
    if (read.kind === 'unclear') return { kind: 'wrong', why: read.why };
    if (read.kind !== 'number' || read.value < 0) return { kind: 'wrong', why: NO_NUMBER[field](text) };
    numbers[field] = read.value;
  }
  const { featureId, plane, ring } = step;
  const { angleDeg = advisedDeg, ...sizes } = numbers;
  return {
    kind: 'read',
    step: {
      featureId,
      angleDeg,
      ...(plane === undefined ? {} : { plane }),
      ...(ring === undefined ? {} : { ring }),
      ...sizes,
    },
  };
}
