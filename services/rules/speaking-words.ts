// What is said of raw windows on record: of a bearing part that speaks, and of what is usual.
import { say } from '../../shared/language/index.ts';
import type { BearingPart } from '../../shared/wave-analysis.ts';
import { amountWords } from '../../shared/wording.ts';
import type { SpeakingState, WindowState } from './window-facts.ts';
import { USUAL_ANEW_WINDOWS } from './window-limits.ts';

const PART_WORDS: Readonly<Record<BearingPart, string>> = {
  cage: say`cage`,
  outer: say`outer race`,
  inner: say`inner race`,
  rolling: say`rolling elements`,
};

/** Never that it is damaged: only somebody who looks at it can say that. */
export function speakingWords({ bearing, part, windows, indicator, foundHz }: SpeakingState): string {
  const times = amountWords(indicator);
  return foundHz === undefined
    ? say`the envelope speaks of the ${PART_WORDS[part]} of its bearing ${bearing}, ${times} times its noise, in ${windows} windows: have the bearing looked at`
    : say`the envelope speaks of the ${PART_WORDS[part]} of its bearing ${bearing} at ${amountWords(foundHz)} Hz, ${times} times its noise, in ${windows} windows: have the bearing looked at`;
}

export function silentWords({ bearing, part }: Pick<SpeakingState, 'bearing' | 'part'>): string {
  return say`the envelope no longer speaks of the ${PART_WORDS[part]} of its bearing ${bearing}`;
}

export function usualAnewWords(channel: string, { wasMS2, isMS2 }: { wasMS2: number; isMS2: number }): string {
  return say`the acceleration on ${channel} was ${amountWords(isMS2)} m/s² RMS in ${USUAL_ANEW_WINDOWS} windows in a row, and ${amountWords(wasMS2)} before: that is what is usual from now on. Have the scale of its sensor checked`;
}

export function mountAnewWords(channel: string): string {
  return say`in ${USUAL_ANEW_WINDOWS} windows in a row the sensor on ${channel} seemed to ring on its mount: their spectrum is what is usual from now on. Have its mount checked`;
}

/** Of all channels, the one that speaks most clearly; undefined where none has spoken for long enough. */
export function foremostSpeaking({ channels }: Pick<WindowState, 'channels'>): SpeakingState | undefined {
  let foremost: SpeakingState | undefined;
  for (const { speaking } of channels) {
    for (const one of speaking) {
      if (one.standing && (foremost === undefined || one.indicator > foremost.indicator)) foremost = one;
    }
  }
  return foremost;
}
