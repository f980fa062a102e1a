// How far a verification is: the release by maintenance, the load of a known assembly, the readings; each with what is known of it.
import { awaitedSince, type Hold } from '../../../shared/holds.ts';
import { say } from '../../../shared/language/index.ts';
import type { HoldView } from '../../../shared/views.ts';
import { amountWords, spanWords } from '../../../shared/wording.ts';
import {
  isKnownGood,
  isLoadedSince,
  VERIFICATION_EXPECTED_FACTOR,
  UNTUNED,
  VERIFICATION_MS,
  type Floor,
  type SpindleState,
} from '../../rules/index.ts';

type Parts = NonNullable<HoldView['conditions'][number]['parts']>;
type Part = Parts[number];

export function runParts(floor: Floor, hold: Hold, spindleId: string): Parts {
  const asked = awaitedSince(hold, 'verification-run');
  const spindle = floor.spindles.get(spindleId);
  const released: Part = {
    words: say`maintenance releases ${spindleId} by name, with what was found`,
    done: asked !== undefined,
    told: asked === undefined ? say`not yet` : say`by ${asked.by}`,
  };
  return [released, loadPart(floor, spindle, asked !== undefined), readingsPart(spindle, asked !== undefined)];
}

function loadPart(floor: Floor, spindle: SpindleState | undefined, asked: boolean): Part {
  const words = say`then another load, of an assembly whose measurement is in force and within`;
  const { loaded, live } = spindle ?? {};
  if (!asked || live?.trial === undefined) return { words, done: false, told: say`not yet` };
  if (loaded === undefined) return { words, done: false, told: say`nothing is loaded` };
  if (!isLoadedSince(live.trial, loaded))
    return { words, done: false, told: say`${loaded.assemblyId} was in it before; clamp it again, or load another` };
  const good = isKnownGood({ assembly: (id) => floor.assemblies.get(id) }, loaded);
  return {
    words,
    done: good,
    told: good ? loaded.assemblyId : say`${loaded.assemblyId} has no measurement in force that is within`,
  };
}

function readingsPart(spindle: SpindleState | undefined, asked: boolean): Part {
  const words = say`with ${(spindle?.tuned ?? UNTUNED).verificationReadings} readings in a row at one steady speed, out of the cut, over ${spanWords(VERIFICATION_MS)}, none above a limit in force nor above ${VERIFICATION_EXPECTED_FACTOR} times what is expected`;
  const trial = asked ? spindle?.live.trial : undefined;
  if (trial === undefined) return { words, done: false, told: say`not yet` };
  if (trial.readings === 0)
    return {
      words,
      done: false,
      told:
        trial.worstShare > 1
          ? say`begins anew: a reading was ${amountWords(trial.worstShare)} times what is allowed`
          : say`none yet`,
    };
  const span = spanWords(trial.lastAt - trial.firstAt);
  const told = say`${trial.readings} so far over ${span}, the highest at ${amountWords(trial.worstShare)} of what is allowed`;
  return { words, done: trial.passed, told };
}
