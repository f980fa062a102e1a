// What a recording says and what it cannot say, in sentences that are the same on the page and on the command line.
import { retell, say, sayCount } from '../language/index.ts';
import { speedWithinRpm } from '../speed-within.ts';
import type { BearingPart, HealthWeight, SpeedSource } from '../wave-analysis.ts';
import { amountWords, factorWords, rpmWords, wholeWords } from '../number-words.ts';
import type { ChannelAnalysis, ChannelQuestion, ToldBearing, ToldHealth } from './analyse-channel.ts';
import { WINDOWS_MAX } from './channel-windows.ts';

const WEIGHT_WORDS: Readonly<Record<HealthWeight, string>> = {
  unusable: say`Not to be used`,
  speed: say`Doubt about the speed`,
  doubtful: say`With care`,
};

/** A band that begins closer to 1× than this takes a part of it away: its edge is as wide as a line's window. Own choice. */
const EDGE_CLEAR = 1.1;

const PART_WORDS: Readonly<Record<BearingPart, string>> = {
  cage: say`cage`,
  outer: say`outer race`,
  inner: say`inner race`,
  rolling: say`rolling element`,
};

/** The first thing said of a channel: whether its numbers are to be used. */
export function channelSentence({ name, health, windows, usable }: ChannelAnalysis): string {
  if (usable === 0) return say`The numbers of ${name} are not to be used; none is shown.`;
  if (usable < windows.length)
    return say`Of ${windows.length} windows of ${name}, ${usable} can be used; the numbers are of these alone.`;
  return health.length === 0
    ? say`Nothing was seen in the signal of ${name} that speaks against its numbers.`
    : say`The numbers of ${name} are to be taken with what was seen in its signal.`;
}

export function healthSentence({ weight, words, windows, firstAtS }: ToldHealth, of: ChannelAnalysis): string {
  const all = of.windows.length;
  const where = all === 1 ? '' : say` (in ${windows} of ${all} windows, first from ${amountWords(firstAtS)} s on)`;
  // What reckons knows no language of a page. Of a file without a unit it only ever had bare numbers.
  const told = of.scaled ? retell(words) : retell(words).replaceAll(' m/s²', '');
  return `${WEIGHT_WORDS[weight]}: ${told}${where}`;
}

const SPEED_WORDS: Readonly<Record<SpeedSource, string>> = {
  tacho: say`from its tacho marks`,
  told: say`as told; no line of the signal confirms it`,
  refined: say`as told, sought closer in the signal itself`,
  unknown: say`not known`,
};

/** What it turned with, and whether that is steady: stands after the word speed. */
export function speedWords({ windows, told }: ChannelAnalysis, { speedRpm: askedRpm }: ChannelQuestion): string {
  const analysis = windows[told?.middle ?? 0]?.analysis;
  const elsewhere = askedRpm === undefined ? elsewhereWords(windows, analysis?.speedRpm) : '';
  if (analysis?.speedRpm === undefined)
    return elsewhere === ''
      ? say`not known: no order could be found`
      : say`not known in the window told of${elsewhere}`;
  const { speedRpm, speedFrom, speedSpreadPercent } = analysis;
  const found =
    speedFrom === 'refined' && askedRpm === undefined ? say`found in the signal, not told` : SPEED_WORDS[speedFrom];
  const spread =
    speedSpreadPercent === undefined
      ? ''
      : say`; it departs from its mean by up to ${amountWords(speedSpreadPercent)} %`;
  const within = speedWithinRpm(analysis);
  const about =
    within === undefined
      ? rpmWords(speedRpm)
      : say`about ${rpmWords(speedRpm)} (within ${amountWords(within)} rpm, one line of a window)`;
  return `${about}, ${found}${spread}${elsewhere}`;
}

/** Windows of one recording agree so far: a spindle under load slows by a percent or two (common practice, no source). */
const AGREE_WITHIN = 0.02;

/** What other windows say of a speed that nobody told, where it is another: each of them carries it in its own numbers. */
function elsewhereWords(windows: ChannelAnalysis['windows'], hereRpm: number | undefined): string {
  const others = windows
    .flatMap(({ analysis: { speedRpm } }) => speedRpm ?? [])
    .filter((rpm) => hereRpm === undefined || Math.abs(rpm / hereRpm - 1) > AGREE_WITHIN);
  if (others.length === 0) return '';
  const [least, most] = [Math.min(...others), Math.max(...others)];
  if (others.length === 1)
    return say`; 1 of ${windows.length} windows has lines as of ${rpmWords(most)}: tell the speed that the machine showed`;
  return most / least - 1 > AGREE_WITHIN
    ? say`; ${others.length} of ${windows.length} windows have lines as of ${rpmWords(least)} to ${rpmWords(most)}: tell the speed that the machine showed`
    : say`; ${others.length} of ${windows.length} windows have lines as of ${rpmWords(most)}: tell the speed that the machine showed`;
}

export function bearingSentence(finding: ToldBearing, windows: number): string {
  const { bearing, part, expectedHz, foundHz, indicator, harmonics, sidebands, speaksIn } = finding;
  const where = say`The ${PART_WORDS[part]} of the bearing ${bearing}`;
  if (foundHz === undefined)
    return say`${where} does not speak: nothing above the floor near ${amountWords(expectedHz)} Hz.`;
  const beside = [
    sayCount(harmonics, '{0} harmonic', '{0} harmonics'),
    sayCount(sidebands, '{0} sideband', '{0} sidebands'),
  ] as const;
  const line = say`${amountWords(foundHz)} Hz (expected ${amountWords(expectedHz)} Hz), ${factorWords(indicator)} the floor, ${beside[0]} and ${beside[1]}`;
  if (speaksIn === 0)
    return say`${where} does not speak: ${line}, no more than noise and shaft orders make of themselves.`;
  return windows === 1
    ? say`${where} speaks: ${line}.`
    : say`${where} speaks in ${speaksIn} of ${windows} windows: ${line}.`;
}

/** Which bearings were looked for, and who says what they are; '' where none was told. */
export function bearingsWords({ settings }: ChannelQuestion): string {
  return (settings.bearings ?? [])
    .map(({ name, source, geometry: g }) =>
      g === undefined
        ? say`${name}, by its multiples (${source})`
        : say`${name}: ${g.elements} × ${amountWords(g.elementDiameterMm)} mm on ${amountWords(g.pitchDiameterMm)} mm at ${amountWords(g.contactAngleDeg)}° (${source})`,
    )
    .join('; ');
}

/** What is not said, and what would have to be told or recorded to say it. */
export function cannotTell(
  { scaled, windows, told, leftOut, samples, sampleRateHz }: ChannelAnalysis,
  { speedRpm: askedRpm, settings }: ChannelQuestion,
): readonly string[] {
  const middle = windows[told?.middle ?? 0]?.analysis;
  const known = middle?.speedRpm !== undefined;
  const [, bandEndHz = 0] = settings.velocityBandHz ?? [];
  const [bandBeginHz = 0] = middle?.bandHz ?? [];
  const firstHz = middle?.orders[0]?.frequencyHz ?? Infinity;
  const lineHz = sampleRateHz / ((windows[0]?.to ?? 1) - (windows[0]?.from ?? 0));
  const says: (string | false)[] = [
    !scaled && say`How strong anything is: the file carries no unit and none was told. Ratios and frequencies hold.`,
    scaled && say`Whether it is permitted: no limit of the machine’s maker is known here.`,
    !known && say`Orders of the shaft, tooth passing and bearings: they need the speed.`,
    known &&
      askedRpm === undefined &&
      say`Whether the speed found is the shaft’s: tell the speed that the machine showed.`,
    known && say`At which angle the heavy spot is: without tacho marks there is no phase.`,
    known &&
      (settings.bearings ?? []).length === 0 &&
      say`Which bearing: none is told, by geometry or by its maker’s multiples.`,
    known && settings.teeth === undefined && say`What of it is tooth passing: the number of teeth is not told.`,
    bandEndHz > sampleRateHz / 2 &&
      say`What lies above ${wholeWords(sampleRateHz / 2)} Hz: the sampling ends there, the band with it.`,
    firstHz < EDGE_CLEAR * bandBeginHz &&
      // ISO 20816-3, from memory: from 2 Hz on at 600 rpm and below.
      say`What the overall velocity is: its band begins at ${amountWords(bandBeginHz)} Hz, and 1× stands at ${amountWords(firstHz)} Hz. Tell a band that begins lower, such as 2 Hz.`,
    say`What lies closer together than ${amountWords(lineHz)} Hz: that is one line of a window.`,
    leftOut > 0 &&
      say`What was between the windows: ${WINDOWS_MAX} were looked at, spread evenly, ${wholeWords((100 * leftOut) / samples)} % of the recording lies between them.`,
  ];
  return says.filter((words) => words !== false);
}
