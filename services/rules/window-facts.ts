// What is remembered of a spindle's raw windows: the last of each channel, what is wrong with it, which bearing parts speak.
import type { Position } from '../../shared/entries.ts';
import type { Instant } from '../../shared/time.ts';
import type { BearingPart, HealthFinding } from '../../shared/wave-analysis.ts';

/** A part of a bearing that speaks in the envelope, or did so a moment ago. */
export interface SpeakingState {
  readonly bearing: string;
  readonly part: BearingPart;
  /** Windows that it spoke in: in a row until it stands, and since then all, until it is silent for long enough. */
  readonly windows: number;
  /** Windows in a row that it was silent in. */
  readonly silent: number;
  /** When the first of them was measured. */
  readonly since: Instant;
  /** Of the last window that it spoke in. */
  readonly indicator: number;
  readonly foundHz: number | undefined;
  readonly wave: Position;
  /** It has spoken for long enough to be told of, and still does. */
  readonly standing: boolean;
}

/** What the spectrum of healthy windows was. */
export interface UsualSpectrum {
  /** How many of them. */
  readonly windows: number;
  /** RMS velocity in third octaves, mm/s: the mean of their powers. */
  readonly thirdsMmS: readonly number[];
  /** Windows in a row since whose mount seemed to be another, and nothing else wrong with them. */
  readonly ringing?: number;
}

/** Acceleration and spectrum of the last healthy windows at nearly one speed. */
export interface UsualAcceleration {
  readonly speedStep: number;
  /** m/s² RMS, oldest first. */
  readonly rmsMS2: readonly number[];
  /** Of the windows since, if each was off by its scale alone; oldest first. */
  readonly offMS2?: readonly number[];
  /** Absent where none of them had levels. */
  readonly spectrum?: UsualSpectrum;
}

export interface ChannelState {
  readonly channel: string;
  /** The last window that was analysed, and when it was measured. */
  readonly wave: Position;
  readonly at: Instant;
  /** Of that window. */
  readonly health: readonly HealthFinding[];
  readonly speaking: readonly SpeakingState[];
  readonly usual: readonly UsualAcceleration[];
}

/** A window that was asked for and has not come yet. */
export interface WindowAsked {
  readonly id: string;
  readonly at: Instant;
  /** A person's name, or the service's own. */
  readonly by: string;
}

export interface WindowState {
  /** Who sent the last window, which one it was, of which channel. */
  readonly device: string;
  readonly wave: Position;
  readonly at: Instant;
  readonly channel: string;
  readonly asked: WindowAsked | undefined;
  /** The one that was heard longest ago first. */
  readonly channels: readonly ChannelState[];
}
