// What a spindle's page says of its raw windows before any picture: what is wrong with the signal, which bearing parts speak.
import { say } from '../../../shared/language/index.ts';
import type { SpindleWindows } from '../../../shared/views.ts';
import { foremostSpeaking, speakingWords, type Floor } from '../../rules/index.ts';
import { defined } from './defined.ts';

/** Undefined where no sensor of it ever sent a window. */
export function windowsView({ windows }: Pick<Floor, 'windows'>, spindleId: string): SpindleWindows | undefined {
  const state = windows.get(spindleId);
  if (state === undefined) return undefined;
  const { wave, at, device, channel, asked, channels } = state;
  return {
    waveId: wave,
    at,
    device,
    channel,
    health: channels.flatMap((one) =>
      one.health.map(({ weight, words }) => ({ channel: one.channel, waveId: one.wave, at: one.at, weight, words })),
    ),
    speaking: channels.flatMap((one) =>
      one.speaking
        .filter(({ standing }) => standing)
        .map((part) => ({
          channel: one.channel,
          bearing: part.bearing,
          part: part.part,
          waveId: part.wave,
          since: part.since,
          words: speakingWords(part),
        })),
    ),
    ...defined({ asked }),
  };
}

/** A question for each finding of the last window of each channel. */
export function doubtsOfSignal({ windows }: Pick<Floor, 'windows'>, spindleId: string): readonly string[] {
  return (windows.get(spindleId)?.channels ?? []).flatMap(({ channel, health }) =>
    health.map(
      ({ words }) =>
        `${say`Can its signal be believed?`} ${/[.!?]$/.test(words) ? say`The last raw window on ${channel}: ${words}` : say`The last raw window on ${channel}: ${words}.`}`,
    ),
  );
}

/** The sentence of the bearing part that speaks most clearly. */
export function speakingSentence({ windows }: Pick<Floor, 'windows'>, spindleId: string): string | undefined {
  const state = windows.get(spindleId);
  const foremost = state === undefined ? undefined : foremostSpeaking(state);
  return foremost === undefined ? undefined : speakingWords(foremost);
}
