// One window from its counts to what it says; whatever goes wrong with it is said of it and stops nothing else.
import type { WaveDone, WaveJob, WaveOutcome } from '../../shared/wave-job.ts';
import { analyseWindow, type AnalysisSettings, type VibrationWindow } from '../../shared/vibration/index.ts';
import { packCounts } from '../packing/index.ts';
import { SampleRoom } from './samples.ts';

const room = new SampleRoom();

export function analysedWindow(job: WaveJob): WaveDone {
  const { waveId, counts, wave } = job;
  const outcome = outcomeOf(job);
  const packed = outcome.kind === 'analysed' ? packCounts(counts, wave.encoding) : undefined;
  return { waveId, outcome, ...(packed === undefined ? {} : { packed }) };
}

function outcomeOf(job: WaveJob): WaveOutcome {
  try {
    return { kind: 'analysed', analysis: analyseWindow(windowOf(job), settingsOf(job)) };
  } catch (failure) {
    return { kind: 'failed', why: failure instanceof Error ? failure.message : String(failure) };
  }
}

function windowOf({ wave, counts }: WaveJob): VibrationWindow {
  const { sampleRateHz, speedRpm, tachoS, cutting, fullScaleMS2, gravityShare, encoding, scaleMS2 } = wave;
  return {
    accelerationMS2: room.accelerationOf(counts, wave),
    sampleRateHz,
    ...(speedRpm === undefined ? {} : { speedRpm }),
    ...(tachoS === undefined ? {} : { tachoS }),
    ...(cutting === undefined ? {} : { cutting }),
    ...(fullScaleMS2 === undefined ? {} : { fullScaleMS2 }),
    ...(gravityShare === undefined ? {} : { gravityShare }),
    // Only of a converter is one count a step.
    ...(encoding === 'int16' ? { stepMS2: scaleMS2 } : {}),
  };
}

function settingsOf(job: WaveJob): AnalysisSettings {
  const { bearings, teeth, velocityBandHz, envelopeBandHz, usualRmsMS2, usualThirdsMmS } = job;
  return {
    bearings,
    ...(teeth === undefined ? {} : { teeth }),
    ...(velocityBandHz === undefined ? {} : { velocityBandHz }),
    ...(envelopeBandHz === undefined ? {} : { envelopeBandHz }),
    ...(usualRmsMS2 === undefined ? {} : { usualRmsMS2 }),
    ...(usualThirdsMmS === undefined ? {} : { usualThirdsMmS }),
  };
}
