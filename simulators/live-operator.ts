// The operator at the benches of a live run: reads the advice that comes back, follows it, and what is then measured is what
// that left. Without advice in time the planned correction is told.
import { BALANCE_ANSWER_TYPE, BalanceAnswer } from '../shared/balance-answer.ts';
import type { BalanceResult, Correction } from '../shared/messages/index.ts';
import { parseTopic } from '../shared/topics.ts';
import { benchFor } from './bench-jobs.ts';
import { measure, planeNames } from './bench.ts';
import type { TimedMessage } from './envelopes.ts';
import { follow } from './operator.ts';
import { added, rotating, type Rotating } from './physics.ts';
import type { Plant } from './plant.ts';
import { prngOf } from './prng.ts';
import { isOfCalendar } from './tool-room.ts';

/** Answers that still wait for their correction; the oldest go. */
const ANSWERS_MAX = 100;

export class LiveOperator {
  readonly #plant: Plant;
  /** By build: the last answer to a measurement before its correction. */
  readonly #answers = new Map<string, BalanceAnswer>();
  /** By build: what each plane has after what was done. */
  readonly #left = new Map<string, readonly Rotating[]>();

  constructor(plant: Plant) {
    this.#plant = plant;
  }

  /** What came on a bench's own answer topic. */
  told(payload: Buffer): void {
    const answer = readAnswer(payload);
    // A build of the calendar is told again after a new start, to the last letter: what was planned of it stands.
    if (answer === undefined || isOfCalendar(answer.buildId)) return;
    if (answer.stage !== 'before-correction' || answer.advice?.plans[0]?.whole.verdict !== 'within') return;
    this.#answers.set(answer.buildId, answer);
    const [oldest] = this.#answers.keys();
    if (this.#answers.size > ANSWERS_MAX && oldest !== undefined) this.#answers.delete(oldest);
  }

  /** A planned message as it really comes to be. */
  asDone(message: TimedMessage): TimedMessage {
    const topic = parseTopic(message.topic);
    if (topic?.direction !== 'in') return message;
    if (topic.channel === 'correction') return this.#corrected(message);
    return topic.channel === 'result' ? this.#measured(message) : message;
  }

  #corrected(message: TimedMessage): TimedMessage {
    const planned = message.envelope.data as Correction;
    const answer = this.#answers.get(planned.buildId);
    const assembly = this.#plant.assemblies.find((one) => one.assemblyId === planned.assemblyId);
    if (answer?.advice === undefined || assembly === undefined) return message;
    this.#answers.delete(planned.buildId);
    const prng = prngOf(this.#plant.seed, 'followed', planned.buildId);
    const followed = follow(answer.advice, assembly.features, { planes: planeNames(assembly), prng });
    if (followed === undefined || followed.changesGmm.length !== answer.planes.length) return message;
    const left = answer.planes.map((plane, nth) =>
      added(rotating(plane.residualGmm, plane.angleDeg), followed.changesGmm[nth] ?? { x: 0, y: 0 }),
    );
    this.#left.set(planned.buildId, left);
    const { planId, steps } = followed;
    return { ...message, envelope: { ...message.envelope, data: { ...planned, planId, steps } } };
  }

  #measured(message: TimedMessage): TimedMessage {
    const planned = message.envelope.data as BalanceResult;
    const left = this.#left.get(planned.buildId);
    const assembly = this.#plant.assemblies.find((one) => one.assemblyId === planned.assemblyId);
    if (planned.stage !== 'after-correction' || left === undefined || assembly === undefined) return message;
    this.#left.delete(planned.buildId);
    const run = {
      assembly,
      buildId: planned.buildId,
      runId: planned.runId ?? planned.buildId,
      stage: planned.stage,
      residualGmm: added(...left),
      planesGmm: left,
    };
    const prng = prngOf(this.#plant.seed, 'measured after advice', planned.buildId);
    const data = measure(benchFor(this.#plant, assembly), run, prng);
    return { ...message, envelope: { ...message.envelope, data } };
  }
}

/** Undefined for the gate's answers, which come on the same topic. */
function readAnswer(payload: Buffer): BalanceAnswer | undefined {
  try {
    const message = JSON.parse(payload.toString()) as { readonly type?: unknown; readonly data?: unknown };
    return message.type === BALANCE_ANSWER_TYPE ? BalanceAnswer.safeParse(message.data).data : undefined;
  } catch {
    return undefined;
  }
}
