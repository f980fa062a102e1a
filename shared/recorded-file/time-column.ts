// The sample rate out of a column of time: how even its steps are, where samples are missing, which stretch has none missing.
import { say } from '../language/index.ts';

/** Steps that depart by more from the step are told: a spectrum smears by as much. Common practice, no source. */
const JITTER_TOLD = 0.01;
/** From one and a half steps on at least one sample is missing: below, rounding to whole steps says none is. */
const GAP_STEPS = 1.5;
/** A time that is printed more coarsely than this share of a step says nothing about single steps. */
const COARSE_SHARE = 0.5;

export type TimeAxis =
  | {
      readonly kind: 'even';
      readonly sampleRateHz: number;
      /** The longest stretch without a gap: row numbers from 0, the last one not counted. */
      readonly from: number;
      readonly to: number;
      readonly remarks: readonly string[];
    }
  | { readonly kind: 'fault'; readonly row: number; readonly words: string };

/** `seconds` in the order of the rows; `resolutionS`: one unit of the last digit as printed, 0 where it is not known. */
export function timeAxisOf(seconds: Float64Array, resolutionS: number): TimeAxis {
  const steps = seconds.length - 1;
  const first = seconds[0] ?? 0;
  const whole = (seconds[steps] ?? 0) - first;
  if (steps < 1 || !(whole > 0))
    return { kind: 'fault', row: steps, words: say`the time does not rise from the first row to the last` };
  const back = firstBackward(seconds);
  if (back !== undefined)
    return {
      kind: 'fault',
      row: back,
      words: say`the time goes back, from ${seconds[back - 1] ?? 0} to ${seconds[back] ?? 0}`,
    };
  const median = medianStep(seconds);
  const coarse = resolutionS > COARSE_SHARE * median;
  const step = coarse ? whole / steps : median;
  const gapS = coarse ? GAP_STEPS * step + 2 * resolutionS : GAP_STEPS * step;
  const even = evenStretch(seconds, gapS);
  const jitter = jitterOf(seconds, even);
  if (!coarse)
    return jitter - resolutionS * even.sampleRateHz > JITTER_TOLD ? remarked(even, unevenWords(jitter)) : even;
  // Steps of just one unit of the last digit lose nothing by rounding.
  return jitter > JITTER_TOLD ? remarked(even, COARSE_WORDS) : even;
}

const COARSE_WORDS = say`The time is printed too coarsely to show single steps: the sample rate is that of the whole stretch, and whether steps are even cannot be told.`;

const unevenWords = (jitter: number): string =>
  say`The steps of the time are not even: one departs by ${Number((jitter * 100).toPrecision(2))} % from the mean. The samples are taken as if they were even; lines of the spectrum are wider for it.`;

type Even = Extract<TimeAxis, { kind: 'even' }>;

function evenStretch(seconds: Float64Array, gapS: number): Even {
  let best = { from: 0, to: 0 };
  let from = 0;
  let gaps = 0;
  let firstGap = 0;
  for (let i = 1; i <= seconds.length; i += 1) {
    const isGap = i < seconds.length && (seconds[i] ?? 0) - (seconds[i - 1] ?? 0) > gapS;
    if (isGap && gaps++ === 0) firstGap = i;
    if (!isGap && i < seconds.length) continue;
    if (i - from > best.to - best.from) best = { from, to: i };
    from = i;
  }
  const lengthS = (seconds[best.to - 1] ?? 0) - (seconds[best.from] ?? 0);
  const sampleRateHz = (best.to - best.from - 1) / lengthS;
  if (gaps === 0) return { kind: 'even', sampleRateHz, ...best, remarks: [] };
  const [firstAfterS, rows] = [(seconds[firstGap - 1] ?? 0) - (seconds[0] ?? 0), best.to - best.from];
  const missing =
    gaps === 1
      ? say`Samples are missing in one place, first after ${firstAfterS} s: the longest stretch without a gap was taken, ${rows} of ${seconds.length} rows.`
      : say`Samples are missing in ${gaps} places, first after ${firstAfterS} s: the longest stretch without a gap was taken, ${rows} of ${seconds.length} rows.`;
  return { kind: 'even', sampleRateHz, ...best, remarks: [missing] };
}

function remarked(even: Even, words: string): Even {
  return { ...even, remarks: [...even.remarks, words] };
}

/** Greatest departure of a step from the mean step, as a share of it. */
function jitterOf(seconds: Float64Array, { from, to, sampleRateHz }: Even): number {
  const step = 1 / sampleRateHz;
  let worst = 0;
  for (let i = from + 1; i < to; i += 1)
    worst = Math.max(worst, Math.abs((seconds[i] ?? 0) - (seconds[i - 1] ?? 0) - step));
  return worst * sampleRateHz;
}

function firstBackward(seconds: Float64Array): number | undefined {
  for (let i = 1; i < seconds.length; i += 1) if ((seconds[i] ?? 0) < (seconds[i - 1] ?? 0)) return i;
  return undefined;
}

function medianStep(seconds: Float64Array): number {
  const steps = new Float64Array(seconds.length - 1);
  for (let i = 0; i < steps.length; i += 1) steps[i] = (seconds[i + 1] ?? 0) - (seconds[i] ?? 0);
  steps.sort();
  return steps[Math.floor(steps.length / 2)] ?? 0;
}
