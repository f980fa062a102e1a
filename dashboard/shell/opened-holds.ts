// Which holds somebody has opened at this screen: a new one keeps its heavier outline until then.
const KEY = 'counterpoise-opened-holds';
const KEPT_MAX = 500;

export class OpenedHolds {
  readonly #ids: Set<string>;

  constructor() {
    this.#ids = new Set(read());
  }

  has(holdId: string): boolean {
    return this.#ids.has(holdId);
  }

  add(holdId: string): void {
    if (this.#ids.has(holdId)) return;
    this.#ids.add(holdId);
    const newest = [...this.#ids].slice(-KEPT_MAX);
    try {
      localStorage.setItem(KEY, JSON.stringify(newest));
    } catch {
      // Without storage the outline comes back after a reload, which is the harmless way round.
    }
  }
}

function read(): string[] {
  try {
    const kept: unknown = JSON.parse(localStorage.getItem(KEY) ?? '[]');
    return Array.isArray(kept) ? kept.filter((id): id is string => typeof id === 'string') : [];
  } catch {
    return [];
  }
}
