// Hears of the other plants every half minute; what was heard last stays, with since when nothing came.
import type { PlantInGroup, PlantStanding } from '../../shared/group.ts';
import { MILLISECONDS_A_SECOND, type Clock } from '../../shared/time.ts';
import { askStanding } from './ask.ts';
import type { OtherPlant } from './group-file.ts';

const ASK_EVERY_MS = 30 * MILLISECONDS_A_SECOND;

export interface GroupSettings {
  readonly others: readonly OtherPlant[];
  readonly clock: Clock;
  readonly askEveryMs?: number;
}

export class GroupWatch {
  readonly #others: readonly OtherPlant[];
  readonly #clock: Clock;
  readonly #heard = new Map<string, Pick<PlantInGroup, 'standing' | 'heardAt' | 'why'>>();
  readonly #timer: NodeJS.Timeout | undefined;
  #asking: Promise<unknown> | undefined;

  constructor({ others, clock, askEveryMs = ASK_EVERY_MS }: GroupSettings) {
    this.#others = others;
    this.#clock = clock;
    if (others.length === 0) return;
    this.#timer = setInterval(() => void this.ask(), askEveryMs);
    void this.ask();
  }

  /** In the order of the file. */
  views(): readonly PlantInGroup[] {
    return this.#others.map(({ name, url }) => ({ name, url, ...this.#heard.get(name) }));
  }

  /** All at once, none twice at a time. Never rejects: what went wrong stands with the plant. */
  ask(): Promise<unknown> {
    this.#asking ??= Promise.all(this.#others.map((other) => this.#askOne(other))).finally(() => {
      this.#asking = undefined;
    });
    return this.#asking;
  }

  async close(): Promise<void> {
    clearInterval(this.#timer);
    await this.#asking;
  }

  async #askOne(other: OtherPlant): Promise<void> {
    try {
      this.#keep(other, await askStanding(other));
    } catch (failure) {
      const why = failure instanceof Error ? failure.message : String(failure);
      this.#heard.set(other.name, { ...this.#heard.get(other.name), why });
    }
  }

  #keep({ name }: OtherPlant, standing: PlantStanding): void {
    this.#heard.set(name, { standing, heardAt: this.#clock.now() });
  }
}
