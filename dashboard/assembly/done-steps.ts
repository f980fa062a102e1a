// What a person typed about the steps, read as numbers; the first thing that is none is said. Pure.
import type { AdviceStep } from '../../shared/advice.ts';
import type { CorrectionStep } from '../../shared/messages/index.ts';

export const FIELDS = ['angleDeg', 'diameterMm', 'depthMm', 'massG'] as const;
export type DoneField = (typeof FIELDS)[number];

export const FIELD_WORDS: Readonly<Record<DoneField, string>> = {
  angleDeg: 'Angle, °',
  diameterMm: 'Drill ⌀, mm',
  depthMm: 'Depth, mm',
  massG: 'Mass, g',
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
    return { kind: 'wrong', why: 'No step is ticked: nothing was done, so there is nothing to record.' };
  const steps: CorrectionStep[] = [];
  for (const row of done) {
    const read = doneStep(row);
    if (read.kind === 'wrong') return { kind: 'wrong', why: `Step ${rows.indexOf(row) + 1}: ${read.why}` };
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
    const text = (typed[field] ?? '').trim().replace(',', '.');
    const value = Number(text);
    if (text === '' || !Number.isFinite(value) || value < 0)
      return { kind: 'wrong', why: `“${text}” is no ${FIELD_WORDS[field].toLowerCase()}.` };
    numbers[field] = value;
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
