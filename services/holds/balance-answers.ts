// What a bench is told of its result: evaluated and judged in the commit; the question from which advice is made goes along.
import type { BalanceAnswer } from '../../shared/balance-answer.ts';
import { ADVISORY, BALANCE_IS_NOT_STRENGTH, CORRECTION_WEAKENS, SECURE_WHAT_TURNS } from '../../shared/cautions.ts';
import type { CorrectionQuestion } from '../../shared/correction/index.ts';
import type { Position } from '../../shared/entries.ts';
import { say } from '../../shared/language/index.ts';
import { backTopic, BALANCE_ANSWER_TYPE } from '../../shared/topics.ts';
import {
  currentBuild,
  measurementInForceOf,
  UNBOUNDED_RPM,
  type AssemblyState,
  type Floor,
  type MeasurementState,
} from '../rules/index.ts';
import { envelope } from './publications.ts';
import { questionOf } from './views/advice-question.ts';
import { defined } from './views/defined.ts';
import { verdictSentence } from './views/verdict-sentence.ts';

/** Where a result stands in the journal, and who is to hear what was made of it. */
export interface ResultTold {
  readonly position: Position;
  readonly device: string;
  readonly id: string;
  readonly assemblyId: string;
  readonly runId: string | undefined;
}

/** An answer without its advice, and what advice is asked from. */
export interface BenchAnswer {
  readonly topic: string;
  readonly envelope: Readonly<Record<string, unknown>>;
  readonly answer: BalanceAnswer;
  readonly question: CorrectionQuestion | undefined;
}

/** Undefined where nothing could be evaluated, or where it is no longer remembered. */
export function benchAnswer(floor: Floor, told: ResultTold): BenchAnswer | undefined {
  const assembly = floor.assemblies.get(told.assemblyId);
  const measurement = assembly?.measurements.find((one) => one.position === told.position);
  if (assembly === undefined || measurement === undefined) return undefined;
  const subject = { kind: 'assembly', id: told.assemblyId } as const;
  return {
    topic: backTopic(floor.plant, told.device, 'answer'),
    envelope: envelope(floor, BALANCE_ANSWER_TYPE, subject, String(told.position), undefined),
    answer: answerOf(assembly, measurement, told),
    question: questionOf(assembly, measurement),
  };
}

function answerOf(assembly: AssemblyState, measurement: MeasurementState, told: ResultTold): BalanceAnswer {
  const { judgement, buildId, stage, planes, position } = measurement;
  const { shownUpToRpm, kind } = judgement;
  const isDone = kind === 'within' || kind === 'cannot-judge';
  return {
    for: told.id,
    position,
    assemblyId: assembly.assemblyId,
    buildId,
    stage,
    planes: planes.map(({ name, residualGmm, angleDeg, benchGmm, benchAngleDeg }) => ({
      name,
      residualGmm,
      angleDeg,
      ...defined({ benchGmm, benchAngleDeg }),
    })),
    residualGmm: judgement.residualGmm,
    errorGmm: judgement.errorGmm,
    verdict: kind,
    sentence: verdictSentence(assembly.assemblyId, measurement),
    remarks: remarksOf(assembly, measurement),
    cautions: [ADVISORY, BALANCE_IS_NOT_STRENGTH, ...(isDone ? [] : [CORRECTION_WEAKENS, SECURE_WHAT_TURNS])],
    ...defined({
      runId: told.runId,
      permissibleGmm: judgement.permissibleGmm,
      gradeReachedMmS: judgement.gradeReachedMmS,
      highestSpeedRpm: shownUpToRpm === UNBOUNDED_RPM ? undefined : shownUpToRpm,
      missesByFactor: judgement.factor,
    }),
  };
}

function remarksOf(assembly: AssemblyState, measurement: MeasurementState): string[] {
  const { worse, inDoubt, remarks, position, buildId } = measurement;
  const closed = assembly.corrections.filter((one) => one.after === position);
  return [
    ...(assembly.builds.find((build) => build.buildId === buildId)?.remarks ?? []),
    ...remarks,
    ...(worse === undefined ? [] : [worse]),
    ...closed.flatMap((one) => [...one.remarks, ...one.shortfalls]),
    ...(inDoubt === undefined ? [] : [say`this result is in doubt with its bench: ${inDoubt}`]),
    ...notCounting(assembly, measurement),
  ];
}

function notCounting(assembly: AssemblyState, { position, buildId }: MeasurementState): readonly string[] {
  const newest = currentBuild(assembly)?.buildId ?? buildId;
  if (newest !== buildId) return [say`this result is on record; build ${newest} is newer than its own`];
  const inForce = measurementInForceOf(assembly)?.position;
  if (inForce === position) return [];
  return [
    inForce === undefined
      ? say`this result is on record and does not count; none counts for its build until it is measured again`
      : say`this result is on record; another one counts for its build`,
  ];
}
