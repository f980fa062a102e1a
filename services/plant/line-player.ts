// Plays recorded lines into a plant in their own time: for an import into a new journal, and for rehearsals.
import type { Instant } from '../../shared/time.ts';
import type { Delivered } from '../intake/index.ts';
import type { Plant } from './plant.ts';
import { readLine, type LineRead } from './read-line.ts';

export const PLAYER_BATCH_LINES_MAX = 1000;

type GoodLine = Exclude<LineRead, { kind: 'fault' }>;

export interface PlayerSettings {
  /** Ticks are put in this often where the lines bring none of their own; 0 for never. */
  readonly tickMs: number;
  readonly fault: (line: number, why: string) => void;
}

/** A silence of a year is not a million ticks: it is seen at its beginning and told once. */
const TICKS_IN_A_GAP_MAX = 1000;

export class LinePlayer {
  readonly #plant: Plant;
  readonly #settings: PlayerSettings;
  #lines = 0;
  #now: Instant = 0;
  #tickedAt: Instant | undefined;
  #ownTicks: boolean;
  #batch: Delivered[] = [];

  constructor(plant: Plant, settings: PlayerSettings) {
    this.#plant = plant;
    this.#settings = settings;
    this.#ownTicks = settings.tickMs === 0;
  }

  get lines(): number {
    return this.#lines;
  }

  async take(text: string): Promise<void> {
    this.#lines += 1;
    const line = readLine(text);
    if (line.kind === 'fault') return this.#settings.fault(this.#lines, line.why);
    if (line.kind === 'tick') this.#ownTicks = true;
    await this.#tickUntil(line);
    this.#now = Math.max(this.#now, line.at);
    if (line.kind === 'delivered') {
      this.#batch.push(line.delivered);
      if (this.#batch.length >= PLAYER_BATCH_LINES_MAX) await this.flush();
      return;
    }
    await this.flush();
    await this.#put(line);
  }

  async flush(): Promise<void> {
    if (this.#batch.length === 0) return;
    const batch = this.#batch;
    this.#batch = [];
    await this.#plant.admit(batch);
  }

  async #put(line: Exclude<GoodLine, { kind: 'delivered' }>): Promise<void> {
    switch (line.kind) {
      case 'tick':
        await this.#plant.note({ kind: 'tick', at: line.at });
        return;
      case 'act':
        await this.#plant.act(line.actor, line.act, line.data, line.at);
        return;
      case 'retried':
        await this.#plant.note({
          kind: 'retried',
          at: line.at,
          rejected: line.rejected,
          actor: { name: line.by, roles: [] },
        });
    }
  }

  /** The clock goes on between lines as it would have in the service. */
  async #tickUntil(line: GoodLine): Promise<void> {
    if (this.#ownTicks) return;
    const { tickMs } = this.#settings;
    this.#tickedAt ??= line.at;
    const steps = Math.floor((line.at - this.#tickedAt) / tickMs);
    if (steps <= 0) return;
    await this.flush();
    for (let step = 1; step <= Math.min(steps, TICKS_IN_A_GAP_MAX); step += 1) {
      await this.#plant.note({ kind: 'tick', at: Math.max(this.#now, this.#tickedAt + tickMs * step) });
    }
    this.#tickedAt += steps * tickMs;
  }
}
