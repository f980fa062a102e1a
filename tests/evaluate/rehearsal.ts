// One trial through intake and rules, in its own time: what was told about whom, and which loads there were.
import { rehearse, type Rehearsed } from '../../services/recording/index.ts';
import type { HoldReason } from '../../shared/holds.ts';
import type { Load } from '../../shared/messages/index.ts';
import type { SubjectState } from '../../shared/outcomes.ts';
import { instantOf, rfc3339Of, type Instant } from '../../shared/time.ts';
import type { Trial } from '../../simulators/index.ts';

/** What may be told: a reason of a hold, a state, or a remark about a bench. */
export type Word = HoldReason | Exclude<SubjectState, 'reporting'> | 'bench-remark';

export interface Told {
  readonly at: Instant;
  readonly word: Word;
  readonly isHold: boolean;
  /** Spindles, assemblies and benches that it names. */
  readonly about: readonly string[];
  /** For a person who looks into it. */
  readonly words: string;
}

export interface LoadSeen {
  readonly at: Instant;
  readonly spindleId: string;
  readonly assemblyId: string;
}

export interface Observed {
  readonly told: readonly Told[];
  readonly loads: readonly LoadSeen[];
  readonly lines: number;
  /** Messages that intake rejected and lines that could not be read; there are none to be expected. */
  readonly refused: number;
}

/** The service's clock goes on at least this often. */
const TICK_MS = 10_000;

export async function observe(trial: Trial): Promise<Observed> {
  const messages = trial.messages();
  const told: Told[] = [];
  const loads: LoadSeen[] = [];
  async function* lines(): AsyncGenerator<string> {
    for (const { topic, at, envelope } of messages) {
      if (topic.endsWith('/load')) loads.push(...loadIn(at, envelope.data as Load));
      yield JSON.stringify({ topic, at: rfc3339Of(at), envelope });
    }
  }
  const report = await rehearse(lines(), {
    plant: trial.plantId,
    tickMs: TICK_MS,
    say: (said) => void told.push(...toldBy(said)),
  });
  return { told, loads, lines: report.lines, refused: report.rejected + report.faults };
}

function loadIn(at: Instant, { action, spindleId, assemblyId }: Load): LoadSeen[] {
  return action === 'load' && assemblyId !== undefined ? [{ at, spindleId, assemblyId }] : [];
}

function toldBy(said: Rehearsed): Told[] {
  switch (said.kind) {
    case 'hold-raised': {
      const { hold } = said;
      const { assemblyId, spindleId, clauses } = hold.evidence;
      const about = [hold.subject.id, assemblyId, spindleId].filter((id) => id !== undefined);
      const words = clauses.map(
        (c) => `${c.what} ${c.measured.toPrecision(4)} against ${c.limit.toPrecision(4)} ${c.unit}`,
      );
      return [
        { at: hold.raisedAt, word: hold.reason, isHold: true, about, words: `${hold.holdId}: ${words.join('; ')}` },
      ];
    }
    case 'state-changed':
      return said.state === 'reporting' || said.subject.kind !== 'spindle'
        ? []
        : [{ at: instantOf(said.at), word: said.state, isHold: false, about: [said.subject.id], words: said.why }];
    case 'remarked':
      // Of all remarks only the one about the proving rotor tells of a fault that is planted.
      return said.subject.kind === 'bench' && said.remark.startsWith('the proving rotor')
        ? [
            {
              at: instantOf(said.at),
              word: 'bench-remark',
              isHold: false,
              about: [said.subject.id],
              words: said.remark,
            },
          ]
        : [];
    case 'hold-stepped':
    case 'severity-changed':
    case 'limit-ahead':
    case 'override-kept':
    case 'wave-asked':
    case 'hold-repeated':
    case 'hold-escalated':
    case 'act-refused':
    case 'cause-weighed':
    case 'gate-answered':
    case 'rejected':
    case 'line-fault':
      return [];
  }
}
