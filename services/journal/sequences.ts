// Which sequences of which boot have come: the highest, and what is missing below it, so that a gap may fill late.
import { BOOTS_PER_SOURCE_MAX, GAPS_PER_BOOT_MAX } from './limits.ts';

interface Boot {
  readonly bootId: string;
  highest: number;
  /** First and last of each missing stretch, flat, ascending. */
  readonly gaps: number[];
}

/** What is written down of it: source, then boot, highest and gaps of each. */
export type SequenceRecord = readonly (readonly [string, readonly (readonly [string, number, readonly number[]])[]])[];

export class Sequences {
  /** The most recently heard boot of a source stands last. */
  readonly #sources = new Map<string, Boot[]>();

  /** Notes a sequence; false when it had come before, or is missing for so long that its gap was given up. */
  note(source: string, bootId: string, sequence: number): boolean {
    const boot = this.#boot(source, bootId);
    if (sequence > boot.highest) {
      if (sequence > boot.highest + 1) open(boot.gaps, boot.highest + 1, sequence - 1);
      boot.highest = sequence;
      return true;
    }
    return fill(boot.gaps, sequence);
  }

  record(): SequenceRecord {
    return Array.from(this.#sources, ([source, boots]) => [
      source,
      boots.map(({ bootId, highest, gaps }) => [bootId, highest, [...gaps]] as const),
    ]);
  }

  restore(record: SequenceRecord): void {
    for (const [source, boots] of record) {
      this.#sources.set(
        source,
        boots.map(([bootId, highest, gaps]) => ({ bootId, highest, gaps: [...gaps] })),
      );
    }
  }

  #boot(source: string, bootId: string): Boot {
    let boots = this.#sources.get(source);
    if (boots === undefined) {
      boots = [];
      this.#sources.set(source, boots);
    }
    const latest = boots.at(-1);
    if (latest?.bootId === bootId) return latest;
    const place = boots.findIndex((boot) => boot.bootId === bootId);
    const boot = place < 0 ? { bootId, highest: -1, gaps: [] } : boots.splice(place, 1)[0];
    if (boot === undefined) throw new Error(`boot ${bootId} of ${source} vanished`);
    boots.push(boot);
    if (boots.length > BOOTS_PER_SOURCE_MAX) boots.shift();
    return boot;
  }
}

function open(gaps: number[], first: number, last: number): void {
  gaps.push(first, last);
  if (gaps.length > GAPS_PER_BOOT_MAX * 2) gaps.splice(0, 2);
}

/** Takes one sequence out of what is missing; false when it is not missing. */
function fill(gaps: number[], sequence: number): boolean {
  let low = 0;
  let high = gaps.length / 2;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((gaps[middle * 2 + 1] ?? 0) < sequence) low = middle + 1;
    else high = middle;
  }
  const first = gaps[low * 2];
  const last = gaps[low * 2 + 1];
  if (first === undefined || last === undefined || sequence < first) return false;
  if (first === last) gaps.splice(low * 2, 2);
  else if (sequence === first) gaps[low * 2] = sequence + 1;
  else if (sequence === last) gaps[low * 2 + 1] = sequence - 1;
  else gaps.splice(low * 2 + 1, 0, sequence - 1, sequence + 1);
  if (gaps.length > GAPS_PER_BOOT_MAX * 2) gaps.splice(0, 2);
  return true;
}
