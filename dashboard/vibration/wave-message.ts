// What a window's own message says of it besides its samples: tacho marks and the end of its range. Pure.
import type { VibrationWindow } from '../../shared/vibration/index.ts';

export interface WaveMessage {
  /** Seconds from the first sample. */
  readonly tachoS: readonly number[];
  readonly fullScaleMS2: number | undefined;
  readonly speedRpm: number | undefined;
  readonly cutting: boolean | undefined;
  readonly gravityShare: number | undefined;
}

export const NO_MESSAGE: WaveMessage = {
  tachoS: [],
  fullScaleMS2: undefined,
  speedRpm: undefined,
  cutting: undefined,
  gravityShare: undefined,
};

/** Of a journal entry as the gateway tells it; what is not there or of another form is left out. */
export function waveMessage(told: unknown): WaveMessage {
  const data = fieldOf(fieldOf(told, 'entry'), 'data');
  const number = (name: string): number | undefined => {
    const value = fieldOf(data, name);
    return typeof value === 'number' && Number.isFinite(value) ? value : undefined;
  };
  const tachoS = fieldOf(data, 'tachoS');
  const cutting = fieldOf(data, 'cutting');
  return {
    tachoS: Array.isArray(tachoS) ? tachoS.filter((at): at is number => typeof at === 'number') : [],
    fullScaleMS2: number('fullScaleMS2'),
    speedRpm: number('speedRpm'),
    cutting: typeof cutting === 'boolean' ? cutting : undefined,
    gravityShare: number('gravityShare'),
  };
}

/** The window as the mathematics takes it. `otherwiseRpm` counts where the message tells no speed. */
export function windowOf(
  { tachoS, fullScaleMS2, speedRpm, cutting, gravityShare }: WaveMessage,
  samples: Pick<VibrationWindow, 'accelerationMS2' | 'sampleRateHz'>,
  otherwiseRpm: number | undefined,
): VibrationWindow {
  const turning = speedRpm ?? otherwiseRpm;
  return {
    accelerationMS2: samples.accelerationMS2,
    sampleRateHz: samples.sampleRateHz,
    ...(turning === undefined ? {} : { speedRpm: turning }),
    ...(tachoS.length === 0 ? {} : { tachoS }),
    ...(cutting === undefined ? {} : { cutting }),
    ...(fullScaleMS2 === undefined ? {} : { fullScaleMS2 }),
    ...(gravityShare === undefined ? {} : { gravityShare }),
  };
}

function fieldOf(told: unknown, name: string): unknown {
  return typeof told === 'object' && told !== null ? (told as Readonly<Record<string, unknown>>)[name] : undefined;
}
