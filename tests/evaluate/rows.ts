// The rows of the table: what may be planted, and the word that is right for it where the rules can tell it at all.
import type { TrialLabel } from '../../simulators/index.ts';
import type { Word } from './rehearsal.ts';

export interface Row {
  readonly name: string;
  /** Empty: the rules cannot tell it yet; whatever they say of it is shown and never counted as detected. */
  readonly right: readonly Word[];
}

/** A limit tells that it is exceeded, not by what; beneath every limit nothing is told. */
const NOT_YET: readonly Word[] = [];

export function rowOf({ kind, tellableFrom }: TrialLabel): Row {
  const below = tellableFrom === undefined;
  const row = (right: readonly Word[], name: string = kind): Row => ({ name, right });
  switch (kind) {
    case 'residual-exceeds':
      return row(['residual-exceeds']);
    case 'held-assembly-loaded':
      return row(['held-assembly-loaded']);
    case 'wrong-pairing':
      return row(['speed-above-balanced']);
    case 'marked-speed-exceeded':
      return row(['speed-above-marked']);
    case 'cutter-changed-unmeasured':
      return row(['not-measured-since-build']);
    case 'spindle-unbalance-growing':
      return below ? row(NOT_YET, `${kind}, below its limit`) : row(['synchronous-over-limit']);
    case 'bearing-defect-growing':
      return below ? row(NOT_YET, `${kind}, below its limit`) : row(['overall-over-limit']);
    case 'bench-scale-drifting':
      return row(['bench-remark']);
    case 'sensor-silent':
      return row(['silent']);
    case 'sensor-offline':
      return row(['offline', 'silent']);
    case 'sensor-flat':
    case 'sensor-clipped':
    case 'sensor-dead':
    case 'sensor-noisy':
    case 'sensor-incoherent':
      return row(['implausible']);
    case 'sensor-stuck':
      return row(['stuck']);
    case 'cutter-changed-untold':
    case 'insert-lost':
    case 'chip-under-taper':
    case 'drawbar-falling':
      return row(NOT_YET, below ? `${kind}, below its limit` : `${kind}, over its limit`);
    case 'resonance':
      return row(NOT_YET, 'resonance, over its limit');
    case 'malformed-message':
    case 'heavy-cutting':
    case 'cutting-told-by-control':
    case 'warming-up':
      throw new Error(`no trial has a label of ${kind}`);
  }
}
