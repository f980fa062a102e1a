// Which speed the gate is asked about where none is typed, told before it is asked and beside the answer. Pure.
import type { GateAnswer } from '../../shared/gate.ts';
import { say } from '../../shared/language/index.ts';
import type { Picture } from '../feed-fold.ts';
import { sameIn } from '../shell/find.ts';
import type { GateFields } from './gate-question.ts';

/** Programmed in that spindle now, whatever is in it. */
function programmedIn(spindleId: string, picture: Picture | undefined): number | undefined {
  const programmed = picture?.spindles.get(spindleId)?.programmedSpeedRpm;
  return programmed === 0 ? undefined : programmed;
}

/** The programmed speed counts for what is loaded there; the program that runs now was made for nothing else. */
export function programmedFor({ spindleId, assemblyId }: GateFields, picture: Picture | undefined): number | undefined {
  const loaded = picture?.spindles.get(spindleId)?.loaded?.assemblyId;
  const isLoaded = loaded !== undefined && sameIn([loaded], assemblyId) !== undefined;
  return isLoaded ? programmedIn(spindleId, picture) : undefined;
}

/** What stands faintly in the empty field: the speed that is then asked about. */
export function speedLeftEmpty(fields: GateFields, picture: Picture | undefined): string {
  return programmedFor(fields, picture) === undefined ? say`its service speed` : say`as programmed`;
}

/** Nobody typed a speed, and the answer is about a lower one than the spindle's program runs at now. */
export function fasterProgram(
  fields: GateFields,
  answer: GateAnswer,
  picture: Picture | undefined,
): number | undefined {
  const programmed = programmedIn(answer.spindleId, picture);
  if (fields.speed.trim() !== '' || programmed === undefined || answer.askedSpeedRpm === undefined) return undefined;
  return programmed > answer.askedSpeedRpm ? programmed : undefined;
}
