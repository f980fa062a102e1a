// Raw windows of a journal in memory, with the same contract as in the others.
import type { Position } from '../../shared/entries.ts';
import type { KeptWave, WaveChange, WaveNew, WaveReads, WavesOfSpindle, WaveStored } from './waves.ts';

export class MemoryWaves {
  /** In the order of their positions. */
  readonly #rows = new Map<Position, WaveStored & { readonly summary?: Position | undefined }>();

  add(waves: readonly WaveNew[]): void {
    // A copy: whoever sent them may hand the bytes on to another thread.
    for (const wave of waves) {
      this.#rows.set(wave.position, { ...wave, state: 'waiting', packing: 'plain', body: Uint8Array.from(wave.body) });
    }
  }

  change(changes: readonly WaveChange[]): void {
    for (const { position, state, summary, packed } of changes) {
      const row = this.#rows.get(position);
      if (row === undefined) continue;
      const isPacked = packed !== undefined && row.body !== undefined;
      this.#rows.set(position, { ...row, state, summary, ...(isPacked ? { packing: 'packed', body: packed } : {}) });
    }
  }

  drop(positions: readonly Position[]): void {
    for (const position of positions) {
      const row = this.#rows.get(position);
      if (row !== undefined) this.#rows.set(position, { ...row, body: undefined });
    }
  }

  face(): WaveReads {
    return {
      waveAt: async (position) => this.#stored(position),
      waveKnownAt: async (position) => {
        const row = this.#stored(position);
        if (row === undefined) return undefined;
        const { body: _body, ...known } = row;
        return known;
      },
      wavesWaiting: async ({ after, limit }) =>
        [...this.#rows.values()]
          .filter(({ position, state, body }) => state === 'waiting' && body !== undefined && position > after)
          .slice(0, limit),
      wavesKept: async ({ after, limit }) =>
        this.#kept()
          .filter(({ position }) => position > after)
          .slice(0, limit),
      wavesOf: async (wanted) => this.#ofSpindle(wanted),
      wavesBehind: async (positions) =>
        [...this.#rows.values()].flatMap(({ position, summary, body }) =>
          body !== undefined && (positions.includes(position) || positions.includes(summary ?? 0)) ? [position] : [],
        ),
      waveRoom: async () => {
        const kept = this.#kept();
        return {
          windows: kept.length,
          bytes: kept.reduce((sum, { bytes }) => sum + bytes, 0),
          waiting: kept.filter(({ state }) => state === 'waiting').length,
          skipped: [...this.#rows.values()].filter(({ state }) => state === 'skipped').length,
        };
      },
    };
  }

  #stored(position: Position): WaveStored | undefined {
    const row = this.#rows.get(position);
    if (row === undefined) return undefined;
    const { summary: _summary, ...stored } = row;
    return stored;
  }

  #ofSpindle(wanted: WavesOfSpindle): readonly Position[] {
    const all = this.#kept().flatMap(({ position, spindleId }) => (spindleId === wanted.spindleId ? [position] : []));
    const found =
      'before' in wanted
        ? all.filter((position) => position < wanted.before).toReversed()
        : all.filter((position) => position >= wanted.from);
    return found.slice(0, wanted.limit);
  }

  #kept(): readonly KeptWave[] {
    return [...this.#rows.values()].flatMap(({ position, spindleId, state, body }) =>
      body === undefined ? [] : [{ position, spindleId, state, bytes: body.length }],
    );
  }
}
