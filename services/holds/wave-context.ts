// What is known of a spindle when a raw window of it is to be analysed: speed, cutting, bearings, teeth, what to make of it.
import type { Position, WaveKept } from '../../shared/entries.ts';
import { say } from '../../shared/language/index.ts';
import type { Wave } from '../../shared/messages/index.ts';
import { MILLISECONDS_AN_HOUR, type Instant } from '../../shared/time.ts';
import type { WaveJob } from '../../shared/wave-job.ts';
import {
  buildLoaded,
  usualRmsMS2,
  usualThirdsMmS,
  type Floor,
  type MachineFacts,
  type SpindleState,
} from '../rules/index.ts';

/** A window that the journal keeps. */
export interface WaveCame {
  readonly position: Position;
  /** When it arrived, and when it was measured. */
  readonly at: Instant;
  readonly measuredAt: Instant;
  readonly device: string;
  readonly spindleId: string;
  readonly wave: WaveKept;
}

export type WaveContext = Omit<WaveJob, 'counts'>;

/** What the machine said longer ago says nothing of now: a control tells of its spindle at least as often. */
const MACHINE_FACTS_MS = MILLISECONDS_AN_HOUR;
/** A sensor that sent a reading of its own within this time makes them itself. */
const OWN_SUMMARIES_MS = MILLISECONDS_AN_HOUR;

export function waveContext(floor: Floor, came: WaveCame): WaveContext {
  const { device, spindleId, wave } = came;
  const spindle = floor.spindles.get(spindleId);
  const measuring = spindle?.declaration?.measuring;
  const teeth = spindle === undefined ? undefined : buildLoaded(floor, spindle)?.teeth;
  const told = toldWave(wave, factsThen(spindle, came.at));
  const windowAt = { spindleId, channel: wave.channel, speedRpm: told.speedRpm, cutting: told.cutting };
  const usual = usualRmsMS2(floor, windowAt);
  const usualThirds = usualThirdsMmS(floor, windowAt);
  const noReading = whyNoReading(floor, came, measuring?.measuredChannel);
  return {
    waveId: came.position,
    device,
    spindleId,
    at: came.measuredAt,
    wave: told,
    bearings: measuring?.bearings ?? [],
    ...(teeth === undefined ? {} : { teeth }),
    ...(measuring?.velocityBandHz === undefined ? {} : { velocityBandHz: measuring.velocityBandHz }),
    ...(measuring?.envelopeBandHz === undefined ? {} : { envelopeBandHz: measuring.envelopeBandHz }),
    ...(usual === undefined ? {} : { usualRmsMS2: usual }),
    ...(usualThirds === undefined ? {} : { usualThirdsMmS: usualThirds }),
    makesReading: noReading === undefined,
    ...(noReading === undefined ? {} : { noReading }),
  };
}

/** As the device sent it; what it left out is what the machine said. */
function toldWave(kept: WaveKept, facts: MachineFacts | undefined): Omit<Wave, 'samples'> {
  const { sampleCount: _count, samples: _samples, ...wave } = kept;
  const speedRpm = wave.speedRpm ?? facts?.actualSpeedRpm;
  const cutting = wave.cutting ?? facts?.cutting;
  return {
    ...wave,
    ...(speedRpm === undefined ? {} : { speedRpm }),
    ...(cutting === undefined ? {} : { cutting }),
  };
}

/** Of a window from before, which is analysed after a start, what the machine said since tells nothing. */
function factsThen(spindle: SpindleState | undefined, at: Instant): MachineFacts | undefined {
  const facts = spindle?.machine;
  return facts !== undefined && facts.at <= at && at - facts.at <= MACHINE_FACTS_MS ? facts : undefined;
}

/** Undefined where a reading is to be made. */
function whyNoReading(floor: Floor, { at, device, wave }: WaveCame, declared: string | undefined): string | undefined {
  const lane = floor.devices.get(device);
  if (lane?.ownSummaryAt !== undefined && at - lane.ownSummaryAt <= OWN_SUMMARIES_MS)
    return say`its sensor sends readings of its own`;
  const measured = declared ?? lane?.firstChannel ?? wave.channel;
  if (wave.channel === measured) return undefined;
  const chosen =
    declared === undefined ? say`the first that its sensor sent; declare another to change that` : say`as declared`;
  return say`readings are made of its channel ${measured}, ${chosen}`;
}
