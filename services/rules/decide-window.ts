// Deciding of raw windows: a bearing that begins to speak or falls silent is said once; a hold for vibration asks for a window.
import type { ActEntry, AnalysedEntry, Entry } from '../../shared/entries.ts';
import { say } from '../../shared/language/index.ts';
import type { Outcome } from '../../shared/outcomes.ts';
import { askedId, SERVICE_NAME } from '../../shared/recording.ts';
import type { Floor } from './floor.ts';
import { actorName } from './raising.ts';
import { mountAnewWords, silentWords, speakingWords, usualAnewWords } from './speaking-words.ts';
import type { SpeakingState } from './window-facts.ts';
import { channelAfter, mountAnew, usualAnew } from './window-state.ts';

const NOTHING: readonly Outcome[] = [];

export function decideAnalysed(floor: Floor, entry: AnalysedEntry): readonly Outcome[] {
  const { outcome, spindleId, channel, wave, position: cause } = entry;
  if (outcome.kind !== 'analysed') return NOTHING;
  const before = floor.windows.get(spindleId)?.channels.find((one) => one.channel === channel);
  if (before !== undefined && before.wave > wave) return NOTHING;
  const after = channelAfter(before, entry, outcome.analysis);
  const was = (before?.speaking ?? []).filter(({ standing }) => standing);
  const is = after.speaking.filter(({ standing }) => standing);
  const subject = { kind: 'spindle', id: spindleId } as const;
  const began = missingIn(was, is).map((one) => speakingWords(one));
  const ended = missingIn(is, was).map((one) => silentWords(one));
  const anew = usualAnew(before, after);
  const usual = anew === undefined ? [] : [usualAnewWords(channel, anew)];
  const mount = mountAnew(before, after) ? [mountAnewWords(channel)] : [];
  return [...began, ...ended, ...usual, ...mount].map((remark): Outcome => ({
    cause,
    kind: 'remarked',
    subject,
    remark,
  }));
}

/** Those of the second list that the first one does not have. */
function missingIn(have: readonly SpeakingState[], list: readonly SpeakingState[]): readonly SpeakingState[] {
  return list.filter((one) => !have.some(({ bearing, part }) => bearing === one.bearing && part === one.part));
}

/** A person asks for a window; where none ever came there is nobody to ask. */
export function decideAskWave(floor: Floor, entry: Extract<ActEntry, { kind: 'ask-wave' }>): readonly Outcome[] {
  const { spindleId, channel } = entry.data;
  const asked = askedOf(floor, entry, spindleId, channel);
  if (asked !== undefined) return [asked];
  const subject = { kind: 'spindle', id: spindleId } as const;
  const remark = say`${entry.actor.name} asked for a raw window, but no sensor of it has ever sent one`;
  return [{ cause: entry.position, kind: 'remarked', subject, remark }];
}

/** What a hold for vibration was raised on is looked at more closely while it lasts. */
export function askedForHolds(floor: Floor, entry: Entry, outcomes: readonly Outcome[]): Outcome | undefined {
  for (const outcome of outcomes) {
    if (outcome.kind !== 'hold-raised' || outcome.hold.subject.kind !== 'spindle') continue;
    const { reason, subject } = outcome.hold;
    if (reason === 'overall-over-limit' || reason === 'synchronous-over-limit')
      return askedOf(floor, entry, subject.id, undefined);
  }
  return undefined;
}

function askedOf(floor: Floor, entry: Entry, spindleId: string, channel: string | undefined): Outcome | undefined {
  const windows = floor.windows.get(spindleId);
  if (windows === undefined) return undefined;
  const { position: cause } = entry;
  return {
    cause,
    kind: 'wave-asked',
    spindleId,
    device: windows.device,
    id: askedId(cause),
    // A reading that raised a hold did not ask: the service did.
    by: entry.kind === 'ask-wave' ? actorName(entry) : SERVICE_NAME,
    ...(channel === undefined ? {} : { channel }),
  };
}
