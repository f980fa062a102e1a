// What a kind of cutter lasted against residual unbalance: how life goes with it, how sure that is, or how many lives are missing.
import { moneyOfChange } from '../../../shared/headroom-words.ts';
import { say } from '../../../shared/language/index.ts';
import { wholeWords } from '../../../shared/number-words.ts';
import { lifeRegression, type LifeRegression } from '../../../shared/statistics/index.ts';
import type { CutterLifeView } from '../../../shared/tool-life.ts';
import type { CutterLives, Floor } from '../../rules/index.ts';
import { defined } from './defined.ts';

const CONFIDENCE = 0.95;
/** z of CONFIDENCE, from two sides. */
const Z = 1.96;
/** Ends by themselves for each coefficient that is sought (Peduzzi and others 1995 for regressions of survival; from memory). */
const ENDS_MIN = 10;
/** A tenth of what is permissible: a step that a bench can tell. */
const TENTH = 0.1;
/** More than so many lives that are missing is no plan. */
const MORE_MAX = 1000;

/** By the number of lives, most first. */
export function cutterLifeViews({ cutters, rates }: Floor): CutterLifeView[] {
  return [...cutters.values()]
    .toSorted((a, b) => b.lives.length - a.lives.length || (a.cutter < b.cutter ? -1 : 1))
    .map((lives) => ({ ...viewOf(lives), ...defined({ changeCost: moneyOfChange(lives.cutter, rates) }) }));
}

/** Lists of lives are replaced whole: what was reckoned of one stands. */
const reckoned = new WeakMap<CutterLives, CutterLifeView>();

function viewOf(of: CutterLives): CutterLifeView {
  const known = reckoned.get(of);
  if (known !== undefined) return known;
  const view = reckon(of);
  reckoned.set(of, view);
  return view;
}

function reckon({ cutter, lives, withoutResidual }: CutterLives): CutterLifeView {
  const ended = lives.filter(({ isEnd }) => isEnd).length;
  const minutes = lives.reduce((sum, life) => sum + life.minutes, 0);
  const found =
    ended < ENDS_MIN
      ? undefined
      : lifeRegression(
          lives.map((life) => ({ time: life.minutes, ended: life.isEnd, x: life.share })),
          CONFIDENCE,
        );
  return {
    cutter,
    lives: lives.length,
    ended,
    withoutResidual,
    meanMinutes: lives.length === 0 ? 0 : minutes / lives.length,
    ...defined({ effect: found === undefined ? undefined : effectOf(found) }),
    words: found === undefined ? missingWords(ended) : foundWords(found, lives.length),
  };
}

function effectOf({ slope, low, high }: LifeRegression): CutterLifeView['effect'] {
  const times = (of: number): number | undefined => (Number.isFinite(of) ? Math.exp(of * TENTH) : undefined);
  return { timesPerTenth: Math.exp(slope * TENTH), ...defined({ low: times(low), high: times(high) }) };
}

function missingWords(ended: number): string {
  if (ended >= ENDS_MIN)
    return say`Not enough data: all of them ran with nearly one residual, so nothing can be told of another.`;
  const more = ENDS_MIN - ended;
  return say`Not enough data: ${ended} ended worn or broken, and at least ${ENDS_MIN} are asked for; ${more} more.`;
}

function foundWords(found: LifeRegression, lives: number): string {
  const [low, high] = [changeWords(found.low), changeWords(found.high)];
  if (found.high < 0 || found.low > 0)
    return say`With each tenth of what is permissible more residual life is ${changeWords(found.slope)} (95 %: ${low} to ${high}).`;
  const none = say`No effect can be told: with each tenth of what is permissible more residual life may be ${low} to ${high}.`;
  return `${none} ${moreWords(found, lives)}`;
}

/** A slope of ln(life) as a change of life for a tenth. */
function changeWords(slope: number): string {
  if (!Number.isFinite(slope))
    return slope < 0 ? say`shorter by more than can be told` : say`longer by more than can be told`;
  const percent = 100 * (Math.exp(slope * TENTH) - 1);
  const shown = Math.abs(percent).toFixed(1);
  return percent < 0 ? say`${shown} % shorter` : say`${shown} % longer`;
}

/** The interval narrows with the root of the lives: how many it takes until it leaves out 0, if the slope stays as it is. */
function moreWords({ slope, low, high }: LifeRegression, lives: number): string {
  const error = (high - low) / (2 * Z);
  const more = Math.ceil(lives * (((Z * error) / Math.abs(slope)) ** 2 - 1));
  return Number.isFinite(more) && more > 0 && more <= MORE_MAX
    ? say`If it is as large as it looks, about ${more} more lives would tell it.`
    : say`So small an effect would take more than ${wholeWords(MORE_MAX)} lives to tell.`;
}
