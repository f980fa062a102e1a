// Whether a window can be believed: every check of the signal itself, said in sentences with figures and what to look at.
import type { HealthFinding } from '../wave-analysis.ts';
import { levelFaults } from './level-faults.ts';
import type { Levels } from './levels.ts';
import type { Moments } from './moments.ts';
import { mountCompared, thirdOctaves, type MountCompared } from './mount-change.ts';
import { repeatedBlock } from './repeated-block.ts';
import type { RowTransform } from './row-transform.ts';
import { clipping, countOf, dropout, flatLine } from './sample-faults.ts';
import type { Shaft } from './shaft.ts';
import { spectrumFaults } from './spectrum-faults.ts';
import { speedFaults } from './speed-faults.ts';
import type { VibrationWindow } from './window.ts';

/** What is known of a window before its health is asked for. */
export interface HealthContext {
  readonly moments: Moments;
  /** RMS of the velocity in its band. */
  readonly overallMmS: number;
  /** The transform of the samples less their mean. */
  readonly row: RowTransform;
  readonly shaft: Shaft;
  /** Median RMS acceleration of earlier healthy windows at this speed. */
  readonly usualRmsMS2?: number;
  /** Of this window, and the third octaves of those earlier ones. */
  readonly levels?: Levels;
  readonly usualThirdsMmS?: readonly number[];
}

/**
 * What is wrong with the signal, the gravest first; empty where nothing was found, which is no proof that all is well. A line that
 * is flat is said alone, and of a signal with samples cut off, lost or sent twice the spectrum is not judged.
 */
export function signalHealth(window: VibrationWindow, context: HealthContext): HealthFinding[] {
  const { moments, row, shaft } = context;
  const flat = flatLine(window, moments);
  if (flat !== undefined) return [flat];
  const count = countOf(window);
  const clipped = clipping(window, row, moments, count);
  const held = dropout(window, clipped?.weight === 'unusable');
  const repeated = held === undefined ? repeatedBlock(window) : undefined;
  const ofSamples = [clipped, held, repeated].filter((it) => it !== undefined);
  const broken = ofSamples.some((it) => it.weight === 'unusable');
  return [
    ...ofSamples,
    ...levelFaults(window, context),
    ...speedFaults(window, row, shaft),
    ...(broken ? [] : spectrumFaults(window, row, moments, count, compared(context))),
  ];
}

function compared({ levels, usualThirdsMmS }: HealthContext): MountCompared | undefined {
  if (levels === undefined || usualThirdsMmS === undefined) return undefined;
  return mountCompared(thirdOctaves(levels), usualThirdsMmS);
}
