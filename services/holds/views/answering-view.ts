// How holds are answered here, as it was declared last, or as the program comes.
import type { AnsweringView } from '../../../shared/answering.ts';
import { answeringOf, type Floor } from '../../rules/index.ts';
import { defined } from './defined.ts';

export function answeringView(floor: Floor): AnsweringView {
  const { levels, deviationNames, note } = answeringOf(floor);
  return {
    levels: levels.map(({ afterMin, to }) => ({ afterMin: { ...afterMin }, to: [...to] })),
    deviationNames,
    note,
    ...defined({ declaredBy: floor.answering?.by, declaredAt: floor.answering?.at }),
  };
}
