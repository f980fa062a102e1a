// Where readings come from, said once in a block: device, boot, spindle, and how a repeat of them would be known.
import type { RepeatKey } from './index.ts';

/** How a repeat of an entry is known, as far as a block remembers it; a `RepeatKey` is one. */
export type Origin = Pick<RepeatKey, 'by' | 'source'>;

export interface Stream {
  readonly index: number;
  readonly device: string;
  readonly bootId: string | undefined;
  readonly spindleId: string | undefined;
  readonly origin: Origin | undefined;
  /** Another stream of the same device. */
  readonly next: Stream | undefined;
}

/** What goes into a block's JSON: one list for each field, in the order of the streams. */
export interface StreamLists {
  readonly devices: readonly string[];
  readonly boots: readonly (string | null)[];
  readonly spindles: readonly (string | null)[];
  /** 0 for none, else as `originCode` makes it. */
  readonly origins: readonly number[];
  /** What stands before the device's name in a source. */
  readonly prefixes: readonly string[];
}

export class StreamTable {
  readonly #byDevice = new Map<string, Stream>();
  readonly #devices: string[] = [];
  readonly #boots: (string | null)[] = [];
  readonly #spindles: (string | null)[] = [];
  readonly #origins: number[] = [];
  readonly #prefixes: string[];

  constructor(prefixes: string[]) {
    this.#prefixes = prefixes;
  }

  get size(): number {
    return this.#devices.length;
  }

  of(device: string, bootId: string | undefined, spindleId: string | undefined, origin: Origin | undefined): Stream {
    const first = this.#byDevice.get(device);
    for (let stream = first; stream !== undefined; stream = stream.next) {
      if (stream.bootId === bootId && stream.spindleId === spindleId && sameOrigin(stream.origin, origin))
        return stream;
    }
    const index = this.#devices.push(device) - 1;
    const stream: Stream = { index, device, bootId, spindleId, origin, next: first };
    this.#byDevice.set(device, stream);
    this.#boots.push(bootId ?? null);
    this.#spindles.push(spindleId ?? null);
    this.#origins.push(originCode(device, origin, this.#prefixes));
    return stream;
  }

  lists(): StreamLists {
    return {
      devices: this.#devices,
      boots: this.#boots,
      spindles: this.#spindles,
      origins: this.#origins,
      prefixes: this.#prefixes,
    };
  }
}

export function streamsOf(lists: StreamLists, withOrigins: boolean): readonly Stream[] {
  return lists.devices.map((device, index) => ({
    index,
    device,
    bootId: lists.boots[index] ?? undefined,
    spindleId: lists.spindles[index] ?? undefined,
    origin: withOrigins ? originOf(device, lists.origins[index] ?? 0, lists.prefixes) : undefined,
    next: undefined,
  }));
}

function sameOrigin(one: Origin | undefined, other: Origin | undefined): boolean {
  return (
    one === other || (one !== undefined && other !== undefined && one.by === other.by && one.source === other.source)
  );
}

const BY: readonly Origin['by'][] = ['id', 'sequence', 'recent-id'];

/** One number for: how it is known, whether the source ends with the device's name, and what stands before that. */
export function originCode(device: string, origin: Origin | undefined, prefixes: string[]): number {
  if (origin === undefined) return 0;
  const ends = device !== '' && origin.source.endsWith(device);
  const prefix = ends ? origin.source.slice(0, -device.length) : origin.source;
  let place = prefixes.lastIndexOf(prefix);
  if (place < 0) place = prefixes.push(prefix) - 1;
  return 1 + BY.indexOf(origin.by) + BY.length * ((ends ? 1 : 0) + 2 * place);
}

export function originOf(device: string, code: number, prefixes: readonly string[]): Origin | undefined {
  if (code === 0) return undefined;
  const by = BY[(code - 1) % BY.length];
  const rest = Math.floor((code - 1) / BY.length);
  const prefix = prefixes[rest >> 1];
  if (by === undefined || prefix === undefined)
    throw new Error('a block of the journal names a source that it does not hold');
  return { by, source: rest % 2 === 1 ? prefix + device : prefix };
}
