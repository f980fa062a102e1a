// What is said of a bearing part that speaks, the same on record and on a screen.
import type { BearingPart } from '../../shared/wave-analysis.ts';
import { amountWords } from '../../shared/wording.ts';
import type { SpeakingState, WindowState } from './window-facts.ts';

const PART_WORDS: Readonly<Record<BearingPart, string>> = {
  cage: 'cage',
  outer: 'outer race',
  inner: 'inner race',
  rolling: 'rolling elements',
};

/** Never that it is damaged: only somebody who looks at it can say that. */
export function speakingWords({ bearing, part, windows, indicator, foundHz }: SpeakingState): string {
  const where = foundHz === undefined ? '' : ` at ${amountWords(foundHz)} Hz`;
  return (
    `the envelope speaks of the ${PART_WORDS[part]} of its bearing ${bearing}${where}, ` +
    `${amountWords(indicator)} times its noise, in ${windows} windows: have the bearing looked at`
  );
}

export function silentWords({ bearing, part }: Pick<SpeakingState, 'bearing' | 'part'>): string {
  return `the envelope no longer speaks of the ${PART_WORDS[part]} of its bearing ${bearing}`;
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
