// Whether what was decided and done is still what was written down: the chain made anew from what stands there, against its links.
import type { Entry, Position } from '../../shared/entries.ts';
import { say } from '../../shared/language/index.ts';
import type { Outcome } from '../../shared/outcomes.ts';
import { Chain, FIRST_HASH, inOrder, isChainedEntry, type Link } from './chain.ts';
import type { JournalReader, Stretch } from './index.ts';
import { LINKS_PAGE } from './limits.ts';

export interface ChainWhole {
  readonly kind: 'whole';
  /** The last position that is not chained: 0, or where a journal of an earlier release stood at its upgrade. */
  readonly after: Position;
  readonly through: Position;
  readonly items: number;
  /** The chain's end; undefined while nothing is chained. */
  readonly head: Link | undefined;
}

export interface ChainBroken {
  readonly kind: 'broken';
  readonly after: Position;
  /** The last link that fits: up to there everything is as it was written. */
  readonly wholeThrough: Position;
  /** What does not fit lies in here, the ends included. */
  readonly first: Position;
  readonly last: Position;
  readonly why: string;
}

export type ChainVerdict = ChainWhole | ChainBroken;

type Reader = Pick<JournalReader, 'read' | 'head' | 'links'>;

/**
 * `noted` is a link that was written down elsewhere, with an export say: a chain that was cut off or made anew as a whole fits in
 * itself, and only what stands elsewhere tells. `progress` is told a share from 0 to 1.
 */
export async function verifyChain(
  reader: Reader,
  {
    noted,
    progress,
  }: { readonly noted?: Link | undefined; readonly progress?: ((share: number) => void) | undefined } = {},
): Promise<ChainVerdict> {
  const head = await reader.head();
  const walk = new Walk(reader, noted);
  const wrong = await walk.begin();
  if (wrong !== undefined) return wrong;
  let read = walk.after;
  try {
    // No further than it went when the links were asked for: what is appended meanwhile is not waited for.
    if (read < head.position) {
      for await (const stretch of reader.read(read + 1, head.position)) {
        const broken = await walk.take(stretch);
        if (broken !== undefined) return broken;
        read = stretch.entries.at(-1)?.position ?? read;
        progress?.(Math.min(1, read / head.position));
      }
    }
  } catch (failure) {
    const words = failure instanceof Error ? failure.message : String(failure);
    return walk.broken(read + 1, read + 1, say`it cannot be read: ${words}`);
  }
  if (read < head.position) return walk.broken(read + 1, head.position, say`entries are missing`);
  return walk.end(head.position);
}

class Walk {
  readonly #reader: Reader;
  readonly #noted: Link | undefined;
  readonly #chain = new Chain(FIRST_HASH);
  /** Read ahead, the next one first. */
  #links: readonly Link[] = [];
  #place = 0;
  #whole: Link | undefined;
  /** Of the first and last item since the last link that fits. */
  #firstOpen: Position | undefined;
  #lastOpen: Position = 0;
  #isNotedSeen = false;
  after: Position = 0;

  constructor(reader: Reader, noted: Link | undefined) {
    this.#reader = reader;
    this.#noted = noted;
  }

  async begin(): Promise<ChainBroken | undefined> {
    await this.#readLinks(-1);
    const [first] = this.#links;
    if (first === undefined || !sameHash(first.hash, FIRST_HASH))
      return this.broken(1, Math.max(1, first?.position ?? 1), say`the beginning of the chain is missing`);
    this.after = first.position;
    await this.#fits(first);
    return undefined;
  }

  /** Undefined while everything fits. */
  async take({ entries, outcomes }: Stretch): Promise<ChainBroken | undefined> {
    const said = inOrder(outcomes);
    let next = 0;
    for (const entry of entries) {
      const from = next;
      while (said[next]?.cause === entry.position) next += 1;
      this.#takeItems(entry, said, from, next);
      // A link stands where its last item does, so nothing of that position comes after it.
      for (let link = this.#links[this.#place]; link !== undefined && link.position <= entry.position;) {
        if (!sameHash(link.hash, this.#chain.hash)) {
          const first = this.#firstOpen ?? (this.#whole?.position ?? 0) + 1;
          return this.broken(first, link.position, say`what stands there is not what was chained`);
        }
        await this.#fits(link);
        link = this.#links[this.#place];
      }
    }
    return undefined;
  }

  async end(through: Position): Promise<ChainVerdict> {
    if (this.#firstOpen !== undefined)
      return this.broken(this.#firstOpen, this.#lastOpen, say`what stands there was never chained`);
    const link = this.#links.at(-1);
    if (link !== undefined && this.#place < this.#links.length && link.position > (await this.#reader.head()).position)
      return this.broken(through + 1, link.position, say`the chain goes further than the entries do`);
    if (this.#noted !== undefined && !this.#isNotedSeen)
      return this.broken(this.after + 1, this.#noted.position, say`the link that was noted is not in this chain`);
    const { items } = this.#chain;
    return { kind: 'whole', after: this.after, through, items, head: items === 0 ? undefined : this.#whole };
  }

  broken(first: Position, last: Position, why: string): ChainBroken {
    const wholeThrough = Math.max(this.after, this.#whole?.position ?? 0);
    return { kind: 'broken', after: this.after, wholeThrough, first, last, why };
  }

  #takeItems(entry: Entry, outcomes: readonly Outcome[], from: number, end: number): void {
    if (from === end && !isChainedEntry(entry)) return;
    const before = this.#chain.items;
    this.#chain.take([entry], outcomes.slice(from, end));
    if (this.#chain.items === before) return;
    this.#firstOpen ??= entry.position;
    this.#lastOpen = entry.position;
  }

  async #fits(link: Link): Promise<void> {
    if (this.#noted?.position === link.position && sameHash(this.#noted.hash, link.hash)) this.#isNotedSeen = true;
    this.#whole = link;
    this.#firstOpen = undefined;
    this.#place += 1;
    if (this.#place === this.#links.length) await this.#readLinks(link.position);
  }

  async #readLinks(after: Position): Promise<void> {
    this.#links = await this.#reader.links(after, LINKS_PAGE);
    this.#place = 0;
  }
}

function sameHash(one: Uint8Array, other: Uint8Array): boolean {
  return Buffer.compare(one, other) === 0;
}
