// Raw windows in the journal: the counts stand in a table of their own, committed with their entry, and may be dropped.
import { deviceTimeOf } from '../../shared/device-time.ts';
import type { Entry, Position, WaveKept } from '../../shared/entries.ts';
import type { Instant } from '../../shared/time.ts';
import type { WavePacking } from '../../shared/wave-job.ts';
import type { WaveState } from '../../shared/wave-views.ts';
import type { Arrival } from './index.ts';

/** One window with its counts. */
export interface WaveStored {
  readonly position: Position;
  /** When it arrived. */
  readonly at: Instant;
  /** When it was measured, as far as its device said. */
  readonly measuredAt: Instant;
  readonly device: string;
  readonly spindleId: string;
  readonly wave: WaveKept;
  readonly state: WaveState;
  readonly packing: WavePacking;
  /** Undefined once they were dropped. */
  readonly body: Uint8Array | undefined;
}

export type WaveKnown = Omit<WaveStored, 'body'>;

export interface KeptWave {
  readonly position: Position;
  readonly spindleId: string;
  readonly state: WaveState;
  readonly bytes: number;
}

export interface WaveRoom {
  /** Whose samples are kept, and how many bytes they take. */
  readonly windows: number;
  readonly bytes: number;
  /** Of them, those that nothing was made of yet. */
  readonly waiting: number;
  /** Ever: too many came at once. */
  readonly skipped: number;
}

/** The newest before a position, or the oldest from a position on; kept ones only. */
export type WavesOfSpindle = { readonly spindleId: string; readonly limit: number } & (
  | { readonly before: Position }
  | { readonly from: Position }
);

/** What can be asked of the windows. */
export interface WaveReads {
  waveAt(position: Position): Promise<WaveStored | undefined>;
  /** The same without its samples, which may be megabytes. */
  waveKnownAt(position: Position): Promise<WaveKnown | undefined>;
  /** Oldest first; only those whose samples are kept. */
  wavesWaiting(page: { readonly after: Position; readonly limit: number }): Promise<readonly WaveStored[]>;
  /** Oldest first, without the samples. */
  wavesKept(page: { readonly after: Position; readonly limit: number }): Promise<readonly KeptWave[]>;
  wavesOf(wanted: WavesOfSpindle): Promise<readonly Position[]>;
  /** Which of these positions are kept windows, and which windows readings at these positions were made of. */
  wavesBehind(positions: readonly Position[]): Promise<readonly Position[]>;
  waveRoom(): Promise<WaveRoom>;
}

/** A window as a commit brings it. */
export type WaveNew = Omit<WaveStored, 'state' | 'packing' | 'body'> & { readonly body: Uint8Array };

/** What became of a window that was committed before. */
export interface WaveChange {
  readonly position: Position;
  readonly state: WaveState;
  /** The reading that was made of it. */
  readonly summary: Position | undefined;
  readonly packed: Uint8Array | undefined;
}

export interface WavesOfBatch {
  readonly waves: WaveNew[];
  readonly waveChanges: WaveChange[];
}

/** What an arrival that was given its place means for the table of windows. */
export function noteWave({ waves, waveChanges }: WavesOfBatch, entry: Entry, { counts, packed }: Arrival): void {
  if (entry.kind === 'wave' && counts !== undefined) {
    const { position, at, time, device, data } = entry;
    waves.push({
      position,
      at,
      measuredAt: deviceTimeOf(at, time),
      device,
      spindleId: data.spindleId ?? '',
      wave: data,
      body: counts,
    });
  } else if (entry.kind === 'analysed') {
    waveChanges.push({ position: entry.wave, state: entry.outcome.kind, summary: entry.summary, packed });
  }
}
