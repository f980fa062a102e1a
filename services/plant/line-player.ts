// Plays recorded lines into a plant in their own time: for an import into a new journal, and for rehearsals.
import type { Position } from '../../shared/entries.ts';
import type { Instant } from '../../shared/time.ts';
import { parseTopic } from '../../shared/topics.ts';
import type { Delivered } from '../intake/index.ts';
import type { Plant } from './plant.ts';
import { keyOfLine, readLine, type LineFault, type ReadLine } from './read-line.ts';

/** Messages of one commit: with many more at once, what each needs outlives the time that its memory is cheap. */
export const PLAYER_BATCH_LINES_MAX = 2048;
/** A silence of a year is not a million ticks: it is seen at its beginning and told once. */
export const PLAYER_TICKS_IN_A_GAP_MAX = 1000;
/** Raw windows, the newest, for which it is still known where they stand now. */
export const PLAYER_WAVES_REMEMBERED_MAX = 100_000;
/** Rejected messages, the newest, whose reading again is still recognised. */
export const PLAYER_REJECTED_REMEMBERED_MAX = 100_000;

export interface PlayerSettings {
  /** Ticks are put in this often where the lines bring none of their own; 0 for never. */
  readonly tickMs: number;
  /** Lines out of a journal are put on record again as they are: none of them is asked whether it is a repeat. */
  readonly exact: boolean;
  /**
   * For an import that may be done again: no line comes on record twice, and no tick at or before this instant, where the
   * journal's clock stood already.
   */
  readonly onceAfter?: Instant;
  readonly fault: (line: number, why: string) => void;
}

type Messages = Extract<ReadLine, { kind: 'delivered' }>;
type Played = Exclude<ReadLine, { kind: 'chain' }>;

export class LinePlayer {
  readonly #plant: Plant;
  readonly #settings: PlayerSettings;
  /** Where rejected messages stand now, by where they stood in the journal that the lines come from. */
  readonly #rejected = new Map<Position, Position>();
  /** The same of raw windows. */
  readonly #waves = new Map<Position, Position>();
  #lines = 0;
  #now: Instant = 0;
  #tickedAt: Instant | undefined;
  #ownTicks: boolean;
  #position: Position = 0;
  #batch: Delivered[] = [];

  constructor(plant: Plant, settings: PlayerSettings) {
    this.#plant = plant;
    this.#settings = settings;
    this.#ownTicks = settings.tickMs === 0;
  }

  get lines(): number {
    return this.#lines;
  }

  /** Empty lines are passed over. What is taken is on record after the next `flush` at the latest. */
  async take(texts: readonly string[]): Promise<void> {
    for (const text of texts) {
      this.#lines += 1;
      if (text.length < 2 && text.trim() === '') continue;
      const line = readLine(text);
      if (line.kind === 'chain') continue;
      if (line.kind === 'fault') this.#fault(line);
      else if (!this.#joins(line)) await this.#playAlone(line);
    }
  }

  async flush(): Promise<void> {
    if (this.#batch.length === 0) return;
    const batch = this.#batch;
    this.#batch = [];
    await this.#plant.record(batch);
  }

  /** Nearly every line: it waits for the commit of those before it and behind it. */
  #joins(line: ReadLine): boolean {
    if (line.kind !== 'delivered' || line.delivered.rejectedFor !== undefined || isWave(line)) return false;
    if (this.#ticksDue(line) > 0 || this.#batch.length >= PLAYER_BATCH_LINES_MAX) return false;
    this.#join(line);
    return true;
  }

  #join({ delivered, at, position = 0 }: Messages): void {
    this.#mark({ delivered, at, position });
    this.#batch.push(delivered);
  }

  #mark({ delivered, at, position }: Pick<Messages, 'delivered' | 'at'> & { readonly position: Position }): void {
    this.#now = Math.max(this.#now, at);
    if (this.#settings.onceAfter !== undefined) delivered.once = true;
    if (position <= this.#position) return;
    this.#position = position;
    if (this.#settings.exact) delivered.asNew = true;
  }

  async #playAlone(line: Played): Promise<void> {
    if (line.kind !== 'delivered' && line.plant !== this.#plant.id) {
      return this.#fault({ kind: 'fault', why: `topic: expected plant ${this.#plant.id}` });
    }
    const ticks = this.#ticksDue(line);
    await this.flush();
    await this.#tick(ticks);
    this.#now = Math.max(this.#now, line.at);
    switch (line.kind) {
      case 'delivered':
        if (line.delivered.rejectedFor !== undefined)
          await this.#placed(line, this.#rejected, PLAYER_REJECTED_REMEMBERED_MAX);
        else if (isWave(line)) await this.#placed(line, this.#waves, PLAYER_WAVES_REMEMBERED_MAX);
        else this.#join(line);
        return;
      case 'tick':
        if (line.at > (this.#settings.onceAfter ?? -Infinity)) await this.#plant.note({ kind: 'tick', at: line.at });
        break;
      case 'act':
        await this.#act(line);
        break;
      case 'analysed':
        await this.#analysed(line);
        break;
      case 'retried':
        await this.#retried(line);
    }
    this.#position = Math.max(this.#position, line.position ?? 0);
  }

  async #act(line: Extract<ReadLine, { kind: 'act' }>): Promise<void> {
    const { act, id, actor, data, at, position = 0 } = line;
    const asNew = this.#settings.exact && position > this.#position;
    const known = id ?? (this.#settings.onceAfter === undefined ? undefined : actKey(line));
    const done = await this.#plant.act(actor, act, data, { at, asNew, ...(known === undefined ? {} : { id: known }) });
    if (done.kind !== 'invalid') return;
    const faults = done.problem.errors?.map(({ pointer, want }) => `envelope.data${pointer}: ${want}`);
    this.#fault({ kind: 'fault', why: faults?.join('; ') ?? done.problem.title });
  }

  /** Put on record alone, so that it is known where it stands now. */
  async #placed({ delivered, at, position }: Messages, places: Map<Position, Position>, max: number): Promise<void> {
    this.#mark({ delivered, at, position: position ?? 0 });
    const place = await this.#plant.place(delivered);
    if (position === undefined) return;
    if (places.size >= max) {
      for (const oldest of places.keys()) {
        places.delete(oldest);
        break;
      }
    }
    places.set(position, place);
  }

  async #analysed({ at, data, position = 0 }: Extract<ReadLine, { kind: 'analysed' }>): Promise<void> {
    const wave = this.#waves.get(data.wave);
    if (wave === undefined) {
      return this.#fault({ kind: 'fault', why: `the raw window at ${data.wave} is not in this recording` });
    }
    const asNew = this.#settings.exact && position > this.#position;
    await this.#plant.recordAnalysed({ kind: 'analysed', at, ...data, wave }, asNew);
  }

  async #retried({ at, rejected, actor }: Extract<ReadLine, { kind: 'retried' }>): Promise<void> {
    const now = this.#rejected.get(rejected);
    if (now === undefined) {
      return this.#fault({ kind: 'fault', why: `the rejected message at ${rejected} is not in this recording` });
    }
    if (this.#settings.onceAfter !== undefined && (await this.#plant.isRetried(now))) return;
    await this.#plant.note({ kind: 'retried', at, rejected: now, actor });
  }

  /** The clock goes on between lines as it would have in the service. */
  #ticksDue({ kind, at, position }: ReadLine): number {
    if (kind === 'tick' || position !== undefined) this.#ownTicks = true;
    if (this.#ownTicks) return 0;
    this.#tickedAt ??= at;
    return Math.max(0, Math.floor((at - this.#tickedAt) / this.#settings.tickMs));
  }

  async #tick(steps: number): Promise<void> {
    if (steps === 0) return;
    const { tickMs } = this.#settings;
    const last = this.#tickedAt ?? this.#now;
    for (let step = 1; step <= Math.min(steps, PLAYER_TICKS_IN_A_GAP_MAX); step += 1) {
      await this.#plant.note({ kind: 'tick', at: Math.max(this.#now, last + tickMs * step) });
    }
    this.#tickedAt = last + steps * tickMs;
  }

  #fault({ why }: LineFault): void {
    this.#settings.fault(this.#lines, why);
  }
}

/** What was made of it names it by its place. */
const isWave = ({ delivered, position }: Messages): boolean =>
  position !== undefined && parseTopic(delivered.topic)?.direction === 'in' && delivered.topic.endsWith('/wave');

function actKey({ actor, act, at, data, position }: Extract<ReadLine, { kind: 'act' }>): string {
  return keyOfLine(`${actor.name} ${act}`, at, position, Buffer.from(JSON.stringify(data ?? null)));
}
