// What a picture asks to have reckoned, and the reckoning: the same in the page and in a worker. Pure.
import {
  analyseWindow,
  envelopeBandFor,
  envelopeSpectrumOf,
  spectrumOf,
  type AnalysisSettings,
  type Spectrum,
  type VibrationQuantity,
  type VibrationWindow,
} from '../../shared/vibration/index.ts';
import type { WaveAnalysis } from '../../shared/wave-analysis.ts';

export interface SpectrumAsked {
  readonly kind: 'spectrum';
  readonly samples: Float64Array;
  readonly sampleRateHz: number;
  readonly quantity: VibrationQuantity;
  readonly lowestHz: number;
  /** Parts that give so many lines are averaged; undefined: one of the whole length, with the finest lines. */
  readonly linesMax: number | undefined;
}

export interface EnvelopeAsked {
  readonly kind: 'envelope';
  readonly samples: Float64Array;
  readonly sampleRateHz: number;
  /** undefined: the band is looked for. */
  readonly bandHz: readonly [number, number] | undefined;
}

export interface AnalysisAsked {
  readonly kind: 'analysis';
  readonly window: VibrationWindow;
  readonly settings: AnalysisSettings;
}

export type Asked = SpectrumAsked | EnvelopeAsked | AnalysisAsked;

export interface Envelope {
  readonly bandHz: readonly [number, number];
  readonly spectrum: Spectrum;
}

export type Answered =
  | { readonly kind: 'spectrum'; readonly spectrum: Spectrum }
  | { readonly kind: 'envelope'; readonly envelope: Envelope }
  | { readonly kind: 'analysis'; readonly analysis: WaveAnalysis };

export function lengthOf(asked: Asked): number {
  return asked.kind === 'analysis' ? asked.window.accelerationMS2.length : asked.samples.length;
}

export function reckon(asked: Asked): Answered {
  switch (asked.kind) {
    case 'spectrum': {
      const { samples, sampleRateHz, quantity, lowestHz, linesMax } = asked;
      const choice = { quantity, lowestHz, ...(linesMax === undefined ? {} : { linesMax }) };
      return { kind: 'spectrum', spectrum: spectrumOf(samples, sampleRateHz, choice) };
    }
    case 'envelope': {
      const { samples, sampleRateHz } = asked;
      const bandHz = asked.bandHz ?? envelopeBandFor(samples, sampleRateHz);
      return { kind: 'envelope', envelope: { bandHz, spectrum: envelopeSpectrumOf(samples, sampleRateHz, bandHz) } };
    }
    case 'analysis':
      return { kind: 'analysis', analysis: analyseWindow(asked.window, asked.settings) };
  }
}
