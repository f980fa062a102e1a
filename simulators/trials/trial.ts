// One labelled trial by its kind and seed: the messages as they come in, and what was wrong in them.
import type { TimedMessage } from '../envelopes.ts';
import { fromTheBeginning } from '../history.ts';
import type { LifeOptions } from '../life.ts';
import { exceedingBefore, exceedingIn, SHIFT_MS, shiftOf } from '../tool-room.ts';
import {
  benchScaleDrifting,
  cutterChangedUnmeasured,
  heldAssemblyLoaded,
  markedSpeedExceeded,
  residualExceeds,
  wrongPairing,
} from './balance-faults.ts';
import { delivered, drawClocks, drawOutages, OUTAGE_MAX_MS, PROMPT, type Delivery } from './delivery.ts';
import { bearingBelowLimit, bearingOverLimit, breaking, unbalanceBelowLimit, unbalanceOverLimit } from './growth.ts';
import { heavyCutting, NOTHING_LAID_OVER, resonance, speedChange, warmingUp } from './harmless.ts';
import type { TrialKind } from './kinds.ts';
import { shownAtOnce, type Scenario, type TrialLabel } from './scenario.ts';
import { sensorFault } from './sensor-trials.ts';
import { drawStage, type Stage, type StageSize } from './stage.ts';

export interface Trial {
  readonly kind: TrialKind;
  readonly seed: number;
  readonly plantId: string;
  readonly intervalS: number;
  readonly spindleDays: number;
  /** Everything that is wrong in it, what goes wrong in ordinary life included. */
  readonly labels: readonly TrialLabel[];
  /** How much later than its event a message may come. */
  readonly lateByMs: number;
  messages(): readonly TimedMessage[];
}

const SHIFTS_A_DAY = 3;
/** Share of the other trials in which messages come twice and clocks are wrong as well. */
const DISTURBED = 0.4;

const SIZES: Partial<Record<TrialKind, StageSize>> = {
  'quiet-life': { spindles: 12, shifts: 12, intervalsS: [60, 120, 300] },
  'bench-scale-drifting': { spindles: 2, shifts: 9 },
  'spindle-unbalance-growing': { spindles: 3, shifts: 4 },
  'bearing-defect-growing': { spindles: 3, shifts: 4 },
};
const USUAL_SIZE = { spindles: 3, shifts: 3 };
/** Room for the rare interface with which such a pairing is possible. */
const PAIRING_SIZE = { spindles: 8, shifts: 2 };

export function trialOf(kind: TrialKind, seed: number): Trial {
  const size =
    SIZES[kind] ?? (kind === 'wrong-pairing' || kind === 'marked-speed-exceeded' ? PAIRING_SIZE : USUAL_SIZE);
  const stage = drawStage(kind, seed, size);
  const { from, until, intervalS } = stage;
  const scenario = scenarioOf(kind, stage);
  const { plant, overlay } = scenario;
  const delivery = deliveryOf(kind, stage);
  const options: LifeOptions = {
    plant,
    from,
    until,
    intervalS,
    detail: 'live',
    run: `trial/${kind}/${seed}`,
    overlaysOf: () => [overlay],
  };
  return {
    kind,
    seed,
    plantId: plant.plantId,
    intervalS,
    spindleDays: (plant.spindles.length * size.shifts) / SHIFTS_A_DAY,
    labels: [...scenario.labels, ...ordinaryLabels(stage, scenario)],
    lateByMs: delivery.outages.size > 0 ? OUTAGE_MAX_MS : 0,
    messages: () => delivered(fromTheBeginning(options), delivery, { prng: stage.prng.split('delivery'), until }),
  };
}

/** In ordinary life a new build exceeds its grade now and then, too. */
function ordinaryLabels({ from, until }: Stage, { plant }: Scenario): TrialLabel[] {
  const labels = exceedingBefore(plant, from);
  for (let shift = shiftOf(from); shift * SHIFT_MS < until; shift += 1) {
    labels.push(...exceedingIn(plant, shift).filter((label) => label.from >= from && label.from < until));
  }
  return shownAtOnce(labels);
}

function deliveryOf(kind: TrialKind, stage: Stage): Delivery {
  const { plant, from, until } = stage;
  const prng = stage.prng.split('how');
  const stretch = { devices: plant.devices, from, until, prng };
  if (kind === 'quiet-life') return PROMPT;
  if (kind === 'late-messages') return { ...PROMPT, outages: drawOutages(stretch) };
  if (kind === 'doubled-messages') return { ...PROMPT, doubled: prng.between(0.1, 0.5) };
  if (kind === 'skewed-clock') return { ...PROMPT, clocks: drawClocks(stretch) };
  return prng.chance(DISTURBED) ? { ...PROMPT, doubled: 0.05, clocks: drawClocks(stretch) } : PROMPT;
}

function scenarioOf(kind: TrialKind, stage: Stage): Scenario {
  switch (kind) {
    case 'residual-exceeds':
      return residualExceeds(stage);
    case 'held-assembly-loaded':
      return heldAssemblyLoaded(stage);
    case 'wrong-pairing':
      return wrongPairing(stage);
    case 'marked-speed-exceeded':
      return markedSpeedExceeded(stage);
    case 'cutter-changed-unmeasured':
      return cutterChangedUnmeasured(stage);
    case 'spindle-unbalance-growing':
      return unbalanceOverLimit(stage);
    case 'bearing-defect-growing':
      return bearingOverLimit(stage);
    case 'bench-scale-drifting':
      return benchScaleDrifting(stage);
    case 'sensor-silent':
    case 'sensor-offline':
    case 'sensor-flat':
    case 'sensor-clipped':
    case 'sensor-dead':
    case 'sensor-noisy':
    case 'sensor-incoherent':
    case 'sensor-stuck':
      return sensorFault(stage, kind);
    case 'cutter-changed-untold':
    case 'insert-lost':
    case 'chip-under-taper':
    case 'drawbar-falling':
      return breaking(stage, kind);
    case 'unbalance-below-limit':
      return unbalanceBelowLimit(stage);
    case 'bearing-below-limit':
      return bearingBelowLimit(stage);
    case 'resonance-over-limit':
      return resonance(stage, [1.15, 2]);
    case 'heavy-cutting':
      return heavyCutting(stage);
    case 'warming-up':
      return warmingUp(stage);
    case 'speed-change':
      return speedChange(stage);
    case 'resonance':
      return resonance(stage, [0.4, 0.95]);
    case 'quiet-life':
    case 'late-messages':
    case 'doubled-messages':
    case 'skewed-clock':
      return { plant: stage.plant, overlay: NOTHING_LAID_OVER, labels: [] };
  }
}
