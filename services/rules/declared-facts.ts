// What people declared of the whole plant, and who did: its own reference figures, and what an hour costs.
import type { ReferenceDeclared } from '../../shared/acts.ts';
import type { Position } from '../../shared/entries.ts';
import type { RatesDeclared } from '../../shared/headroom.ts';
import type { Instant } from '../../shared/time.ts';

interface Declared {
  readonly by: string;
  readonly at: Instant;
  readonly position: Position;
}

/** The plant's own reference figures, and who declared them. */
export interface ReferenceState extends ReferenceDeclared, Declared {}

/** The user's own rates, and who declared them. */
export interface RatesState extends RatesDeclared, Declared {}
