// What a result says that does not agree with its build, with itself, or with what is made of it here.
import { gradeReachedMmS, implausibleMass, type ErrorContribution } from '../../shared/balance/index.ts';
import { say } from '../../shared/language/index.ts';
import type { BalanceResult } from '../../shared/messages/index.ts';
import { amountWords, rpmWords } from '../../shared/wording.ts';
import type { BuildState, Judgement } from './floor.ts';
import { CONTRADICTION_SHARE, TOOL_MASS_MAX_KG } from './limits.ts';

const FULL_TURN_DEG = 360;

export function resultRemarks(
  data: BalanceResult,
  build: BuildState | undefined,
  judgement: Judgement,
): readonly string[] {
  return [
    ...demandRemarks(data, build),
    ...missingRemarks(judgement),
    ...angleRemarks(data),
    ...planeRemarks(data),
    ...speedRemarks(data, judgement),
    ...claimRemarks(data.claims, judgement),
  ];
}

const differ = (one: number | undefined, other: number | undefined): boolean =>
  one !== undefined && other !== undefined && Math.abs(one - other) > CONTRADICTION_SHARE * Math.max(one, other);

/** Another demand than the build was declared with; the declaration governs. */
function demandRemarks(data: BalanceResult, build: BuildState | undefined): readonly string[] {
  if (build?.declared !== true) return massRemarks(data.massKg);
  const remarks: string[] = [];
  if (differ(data.massKg, build.massKg))
    remarks.push(say`the result says ${data.massKg ?? ''} kg, the build ${build.massKg ?? ''} kg; the build's is used`);
  if (differ(data.serviceSpeedRpm, build.serviceSpeedRpm))
    remarks.push(
      say`the result says ${data.serviceSpeedRpm ?? ''} rpm, the build ${build.serviceSpeedRpm ?? ''} rpm; the build's is used`,
    );
  if (differ(data.gradeMmS, build.gradeMmS))
    remarks.push(
      say`the result says G ${data.gradeMmS ?? ''}, the build G ${build.gradeMmS ?? ''}; the build's is used`,
    );
  return remarks;
}

/** Of a build that nobody declared, whose mass is what the result says. */
function massRemarks(massKg: number | undefined): readonly string[] {
  const remark = massKg === undefined ? null : implausibleMass({ massKg, highKg: TOOL_MASS_MAX_KG });
  return remark === null ? [] : [remark];
}

/** By what is missing of them: mass 1, service speed 2, grade 4. */
const MISSING_WORDS: readonly string[] = [
  '',
  say`mass`,
  say`service speed`,
  say`mass, service speed`,
  say`grade`,
  say`mass, grade`,
  say`service speed, grade`,
  say`mass, service speed, grade`,
];

function missingRemarks({ kind, massKg, serviceSpeedRpm, gradeMmS }: Judgement): readonly string[] {
  if (kind !== 'cannot-judge') return [];
  const missing =
    (massKg === undefined ? 1 : 0) + (serviceSpeedRpm === undefined ? 2 : 0) + (gradeMmS === undefined ? 4 : 0);
  return [say`it cannot be judged: neither the build nor the result says its ${MISSING_WORDS[missing] ?? ''}`];
}

const isOutside = (angleDeg: number): boolean => angleDeg < 0 || angleDeg > FULL_TURN_DEG;

function angleRemarks({ planes = [], readings = [] }: BalanceResult): readonly string[] {
  const told = [
    ...planes.map((plane) => plane.angleDeg),
    ...readings.flatMap((reading) => [reading.indexDeg, ...reading.planes.map((plane) => plane.angleDeg)]),
  ].filter(isOutside);
  if (told.length === 0) return [];
  const words = [...new Set(told)].map((angle) => `${amountWords(angle)}°`).join(', ');
  return [say`angles outside 0° to 360° were brought into it: ${words}`];
}

function planeRemarks({ planes }: BalanceResult): readonly string[] {
  const [a, b] = planes ?? [];
  if (a?.positionMm === undefined || a.positionMm !== b?.positionMm) return [];
  return [
    say`planes ${a.name} and ${b.name} are both said to lie at ${amountWords(a.positionMm)} mm; they share half each of what is permissible`,
  ];
}

function speedRemarks({ measuredAtRpm }: BalanceResult, { serviceSpeedRpm }: Judgement): readonly string[] {
  if (measuredAtRpm === undefined) return [say`the result does not say at which speed the bench measured`];
  if (serviceSpeedRpm === undefined || measuredAtRpm <= serviceSpeedRpm) return [];
  return [
    say`it was measured at ${rpmWords(measuredAtRpm)}, above its service speed of ${rpmWords(serviceSpeedRpm)}: is that the bench's speed?`,
  ];
}

/** A bench that tells no error of its own is not without one: what is counted in its stead. */
export function errorRemarks({ error = {} }: BalanceResult, parts: readonly ErrorContribution[]): readonly string[] {
  if (Object.values(error).some((told) => told !== undefined)) return [];
  const [first, ...more] = parts.map(({ name }) => name);
  const last = more.join(' and ');
  const counted =
    first === undefined
      ? say`none is counted`
      : last === ''
        ? say`only ${first} is counted`
        : say`only ${first} and ${last} are counted`;
  return [say`the bench told no measuring error: ${counted}`];
}

/** The bench's own reckoning against ours; ours is used. */
function claimRemarks(claims: BalanceResult['claims'], judgement: Judgement): readonly string[] {
  if (claims === undefined) return [];
  const remarks: string[] = [];
  const { permissibleGmm, kind } = judgement;
  if (differ(claims.permissibleGmm, permissibleGmm))
    remarks.push(
      say`the bench says ${amountWords(claims.permissibleGmm ?? 0)} g·mm are permissible; by ISO 21940-11 it is ${amountWords(permissibleGmm ?? 0)} g·mm`,
    );
  const bare = gradeWithoutError(judgement);
  if (differ(claims.gradeReachedMmS, bare) && differ(claims.gradeReachedMmS, judgement.gradeReachedMmS))
    remarks.push(
      say`the bench says it reaches G ${amountWords(claims.gradeReachedMmS ?? 0)}; ${amountWords(judgement.residualGmm)} g·mm reach G ${amountWords(bare ?? 0)}`,
    );
  if (claims.verdict !== undefined && JUDGED.has(kind) && claims.verdict !== kind)
    remarks.push(say`the bench says ${claims.verdict}; with the measuring error counted it is ${kind}`);
  return remarks;
}

const JUDGED: ReadonlySet<string> = new Set(['within', 'exceeds', 'undecided']);

function gradeWithoutError({ residualGmm, massKg, serviceSpeedRpm }: Judgement): number | undefined {
  if (massKg === undefined || serviceSpeedRpm === undefined) return undefined;
  return gradeReachedMmS({ residualGmm, massKg, speedRpm: serviceSpeedRpm });
}
