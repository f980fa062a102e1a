// What the world is told: retained subjects that a late subscriber still sees, and answers to those who asked.
import type { Position } from '../../shared/entries.ts';
import { GATE_ANSWER_TYPE, type GateAnswer } from '../../shared/gate.ts';
import { holdMessage } from '../../shared/hold-message.ts';
import { HOLD_TYPE } from '../../shared/holds.ts';
import { say } from '../../shared/language/index.ts';
import type { Subject } from '../../shared/ids.ts';
import type { Outcome } from '../../shared/outcomes.ts';
import { rfc3339Of } from '../../shared/time.ts';
import { backTopic, outTopic } from '../../shared/topics.ts';
import { WAVE_ASK_TYPE, type WaveAsk } from '../../shared/wave-ask.ts';
import type { Floor } from '../rules/index.ts';
import { trustOf } from './views/bench-view.ts';
import { holdView } from './views/hold-view.ts';
import { openHoldIds } from './views/spindle-view.ts';

export interface Publication {
  readonly topic: string;
  /** Empty and retained: the subject is cleared. */
  readonly payload: string;
  readonly retain: boolean;
}

export const STATE_TYPE = 'counterpoise.subject.state.v1';

/** Of one commit's outcomes; a subject that changed twice is told once, as it stands now. */
export function publicationsOf(
  floor: Floor,
  outcomes: readonly Outcome[],
  emptied: readonly string[] = [],
): Publication[] {
  const holdsOf = new Map<string, Subject>();
  const told = new Map<string, Publication>();
  const answers: Publication[] = [];
  const put = (publication: Publication): void => {
    told.delete(publication.topic);
    told.set(publication.topic, publication);
  };
  for (const outcome of outcomes) {
    switch (outcome.kind) {
      case 'hold-raised':
        holdsOf.set(keyOf(outcome.hold.subject), outcome.hold.subject);
        break;
      case 'hold-stepped':
      case 'hold-repeated':
      case 'hold-escalated':
      case 'cause-weighed': {
        const subject = floor.holds.get(outcome.holdId)?.subject;
        if (subject !== undefined) holdsOf.set(keyOf(subject), subject);
        break;
      }
      case 'gate-answered': {
        const { answer, toDevice, cause } = outcome;
        if (toDevice !== undefined) {
          answers.push(answerPublication(floor, answer, { toDevice, cause }));
          break;
        }
        const payload = JSON.stringify(gateMessage(floor, answer, String(cause)));
        put({ topic: outTopic(floor.plant, 'spindle', answer.spindleId, 'gate'), payload, retain: true });
        break;
      }
      case 'state-changed':
        if (outcome.subject.kind === 'bench') put(benchPublication(floor, outcome.subject.id, outcome.why));
        else put(statePublication(floor, outcome.subject, outcome.state, outcome.why));
        break;
      case 'remarked':
        if (outcome.subject.kind === 'bench') put(benchPublication(floor, outcome.subject.id));
        break;
      case 'wave-asked':
        answers.push(askPublication(floor, outcome));
        break;
      case 'reading-features':
      case 'severity-changed':
      case 'limit-ahead':
      case 'override-kept':
      case 'act-refused':
    }
  }
  for (const id of emptied) put({ topic: outTopic(floor.plant, 'spindle', id, 'gate'), payload: '', retain: true });
  const holds = [...holdsOf.values()].map((subject) => holdsPublication(floor, subject));
  return [...answers, ...holds, ...told.values()];
}

/** To the sensor that is to send a window. Not retained: a question that nobody heard is over. */
function askPublication(floor: Floor, asked: Extract<Outcome, { kind: 'wave-asked' }>): Publication {
  const { device, spindleId, id, channel, cause } = asked;
  const data: WaveAsk = { ask: 'wave', id, spindleId, ...(channel === undefined ? {} : { channel }) };
  const payload = envelope(floor, WAVE_ASK_TYPE, { kind: 'spindle', id: spindleId }, String(cause), data);
  return { topic: backTopic(floor.plant, device, 'ask'), payload: JSON.stringify(payload), retain: false };
}

/** To the device that asked, under the position of its question. */
export function answerPublication(
  floor: Floor,
  answer: GateAnswer,
  { toDevice, cause }: { readonly toDevice: string; readonly cause: Position },
): Publication {
  const payload = JSON.stringify(gateMessage(floor, answer, String(cause)));
  return { topic: backTopic(floor.plant, toDevice, 'answer'), payload, retain: false };
}

/**
 * Everything that is retained, for a broker that has just been started; and what must be cleared where the broker outlived
 * the service and the service stopped between a commit and telling of it.
 */
export function allPublicationsOf(floor: Floor): Publication[] {
  const subjects = new Map<string, Subject>();
  for (const { subject } of floor.holds.values()) subjects.set(keyOf(subject), subject);
  const spindles = [...floor.spindles.values()].flatMap((spindle) => {
    const state = statePublication(floor, { kind: 'spindle', id: spindle.spindleId }, spindle.state, spindle.stateWhy);
    const { gate } = spindle;
    const topic = outTopic(floor.plant, 'spindle', spindle.spindleId, 'gate');
    const payload = gate === undefined ? '' : JSON.stringify(gateMessage(floor, gate, 'start'));
    return [state, { topic, payload, retain: true }];
  });
  const benches = [...floor.benches.keys()].map((bench) => benchPublication(floor, bench));
  return [...[...subjects.values()].map((subject) => holdsPublication(floor, subject)), ...spindles, ...benches];
}

const keyOf = ({ kind, id }: Subject): string => `${kind}/${id}`;

/** The open holds of a subject; nothing is said any more only when none is left. */
function holdsPublication(floor: Floor, subject: Subject): Publication {
  const topic = outTopic(floor.plant, subject.kind, subject.id, 'hold');
  const open = openHoldIds(floor, subject.kind, subject.id).flatMap((id) => floor.holds.get(id) ?? []);
  if (open.length === 0) return { topic, payload: '', retain: true };
  const holds = open.map((hold) => holdMessage(holdView(floor, hold)));
  return {
    topic,
    payload: JSON.stringify(envelope(floor, HOLD_TYPE, subject, `${floor.position}`, { holds })),
    retain: true,
  };
}

function statePublication(floor: Floor, subject: Subject, state: string, why: string): Publication {
  const topic = outTopic(floor.plant, subject.kind, subject.id, 'status');
  const payload = JSON.stringify(envelope(floor, STATE_TYPE, subject, `${floor.position}`, { state, why }));
  return { topic, payload, retain: true };
}

/** Whether it is there, and whether it is to be believed. */
function benchPublication(floor: Floor, id: string, said?: string): Publication {
  const bench = floor.benches.get(id);
  const state = bench?.state ?? 'reporting';
  const why = said ?? (state === 'offline' ? say`not connected` : say`connected`);
  const topic = outTopic(floor.plant, 'bench', id, 'status');
  const data = { state, why, ...(bench === undefined ? {} : trustOf(bench)) };
  return {
    topic,
    payload: JSON.stringify(envelope(floor, STATE_TYPE, { kind: 'bench', id }, `${floor.position}`, data)),
    retain: true,
  };
}

function gateMessage(floor: Floor, answer: GateAnswer, cause: string): Record<string, unknown> {
  return envelope(floor, GATE_ANSWER_TYPE, { kind: 'spindle', id: answer.spindleId }, cause, answer);
}

export function envelope(
  floor: Floor,
  type: string,
  subject: Subject,
  cause: string,
  data: unknown,
): Record<string, unknown> {
  return {
    specversion: '1.0',
    id: `${type.split('.')[1]}-${subject.kind}-${subject.id}-${cause}`,
    source: `/plant/${floor.plant}/service`,
    type,
    subject: keyOf(subject),
    time: rfc3339Of(floor.at),
    datacontenttype: 'application/json',
    data,
  };
}
