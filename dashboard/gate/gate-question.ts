// What is asked at the gate, and what its answer rests on. Pure.
import { say } from '../../shared/language/index.ts';
import type { Picture } from '../feed-fold.ts';
import { whole } from '../wording/figures.ts';
import { typedNumber } from '../wording/typed-number.ts';

export interface GateFields {
  readonly spindleId: string;
  readonly assemblyId: string;
  /** As typed; empty means: the programmed speed where the assembly is loaded there, else its service speed. */
  readonly speed: string;
}

export type GateAsk =
  | { readonly kind: 'missing'; readonly what: string }
  | { readonly kind: 'ask'; readonly spindleId: string; readonly assemblyId: string; readonly speedRpm?: number };

const SPEED_RPM_MAX = 500_000;

export function askOf({ spindleId, assemblyId, speed }: GateFields): GateAsk {
  // In thousands, by whichever mark: 18.000 read as eighteen would be asked about far too low.
  const typed = typedNumber(speed, { inThousands: true });
  // With places after a comma it is hardly a speed: some write thousands so, and left digits out.
  const doubtful = typed.kind === 'number' && !Number.isInteger(typed.value) && speed.includes(',');
  const speedRpm = typed.kind === 'number' && !doubtful ? typed.value : 0;
  if (typed.kind !== 'empty' && !(speedRpm >= 1 && speedRpm <= SPEED_RPM_MAX))
    return {
      kind: 'missing',
      what: say`“${speed}” is no speed: it is to be a number from 1 to ${whole(SPEED_RPM_MAX)} rpm.`,
    };
  if (spindleId === '' && assemblyId === '') return { kind: 'missing', what: say`Scan the spindle and the assembly.` };
  if (spindleId === '') return { kind: 'missing', what: say`Scan the spindle.` };
  if (assemblyId === '') return { kind: 'missing', what: say`Scan the assembly.` };
  return { kind: 'ask', spindleId, assemblyId, ...(typed.kind === 'empty' ? {} : { speedRpm }) };
}

/** What in the picture an answer rests on: when it changes, the answer is asked for anew. */
export function groundsOf(ask: Extract<GateAsk, { kind: 'ask' }>, picture: Picture | undefined): string {
  const row = picture?.spindles.get(ask.spindleId);
  const holds = [...(picture?.holds.values() ?? [])]
    .filter((hold) => hold.subject.id === ask.spindleId || hold.subject.id === ask.assemblyId)
    .map((hold) => `${hold.holdId} ${hold.state}`);
  return [row?.programmedSpeedRpm ?? '', row?.loaded?.ordinal ?? '', row?.gateWord ?? '', ...holds].join(' ');
}
