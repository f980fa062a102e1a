// What the gateway asks of the plant, of the trends and of alerts; each is somebody else's to fulfil.
import type { ActData, ActKind, Actor } from '../../shared/acts.ts';
import type { Advice } from '../../shared/advice.ts';
import type { Position } from '../../shared/entries.ts';
import type { GateAnswer } from '../../shared/gate.ts';
import type { GateQuestion } from '../../shared/messages/index.ts';
import type { Problem } from '../../shared/problem.ts';
import type { Receipt } from '../../shared/receipts.ts';
import type { DeclaredLimits } from '../../shared/declared-limits.ts';
import type { PlantAheadView } from '../../shared/ahead-plant.ts';
import type { HeadroomView } from '../../shared/headroom.ts';
import type { MonthHappened, MonthHours } from '../../shared/month.ts';
import type { ReferenceView } from '../../shared/reference-view.ts';
import type { RecordKind, RecordPage, VerificationView } from '../../shared/record.ts';
import type { RibbonsView } from '../../shared/ribbons.ts';
import type { AnsweringView } from '../../shared/answering.ts';
import type { Travels } from '../../shared/travels.ts';
import type { Instant } from '../../shared/time.ts';
import type { DeviceCredential } from '../access/index.ts';
import type { SpectrogramView, WaveRow, WavesChosen } from '../../shared/wave-views.ts';
import type { AssemblyRow, AssemblyView } from '../../shared/assembly-views.ts';
import type { ToolRoomView } from '../../shared/tool-room.ts';
import type { RulesView, TryFacts, TryOutAsked, TryOutView } from '../../shared/try-out.ts';
import type { SeriesQuantity } from '../../shared/series-quantities.ts';
import type { FloorView, HoldView, IntakeView, RejectView, SeriesView, SpindleView } from '../../shared/views.ts';

export type ActDone =
  | { readonly kind: 'done'; readonly position: Position }
  | { readonly kind: 'refused'; readonly why: string }
  | { readonly kind: 'invalid'; readonly problem: Problem };

export type RetryDone =
  | { readonly kind: 'kept'; readonly position: Position }
  | { readonly kind: 'rejected'; readonly problem: Problem }
  | { readonly kind: 'unknown' };

export type AdviceTold =
  | { readonly kind: 'advice'; readonly advice: Advice }
  | { readonly kind: 'unknown'; readonly detail: string }
  | { readonly kind: 'full' }
  | { readonly kind: 'failed'; readonly why: string };

export interface PlantPort {
  floor(): Promise<FloorView>;
  spindle(id: string): Promise<SpindleView | undefined>;
  assemblies(): Promise<readonly AssemblyRow[]>;
  assembly(id: string): Promise<AssemblyView | undefined>;
  toolRoom(): Promise<ToolRoomView>;
  /** What reaches its limit when; of one cell, or of all. */
  ahead(cell?: string): Promise<PlantAheadView>;
  /** Of so many days up to now. */
  headroom(days: number): Promise<HeadroomView>;
  /** What the floor remembers of a month, 2026-11. */
  month(month: string): Promise<MonthHours>;
  /** Of all spindles. */
  declaredLimits(): Promise<DeclaredLimits>;
  reference(): Promise<ReferenceView>;
  rules(): Promise<RulesView>;
  /** What a try-out of so many milliseconds back takes from now. */
  tryFacts(backMs: number): Promise<TryFacts>;
  /** Of the measurement at a position of the journal, or of the one in force. */
  advice(assemblyId: string, position?: Position): Promise<AdviceTold>;
  holds(wanted: { readonly state: 'open' | 'ended' | 'all'; readonly limit: number }): Promise<readonly HoldView[]>;
  hold(id: string): Promise<HoldView | undefined>;
  /** Undefined where the hold is not known, or is about no pair. */
  travels(holdId: string): Promise<Travels | undefined>;
  answering(): Promise<AnsweringView>;
  gate(question: GateQuestion): Promise<GateAnswer>;
  intake(): Promise<IntakeView>;
  /** With an id of the sender's own the same act sent again changes nothing and is answered as it was. */
  act<K extends ActKind>(actor: Actor, kind: K, data: ActData[K], id?: string): Promise<ActDone>;
  rejects(wanted: {
    readonly state?: 'open' | 'retried';
    readonly before?: Position;
    readonly limit: number;
  }): Promise<readonly RejectView[]>;
  reject(position: Position): Promise<(RejectView & { readonly base64: string }) | undefined>;
  retry(actor: Actor, position: Position): Promise<RetryDone>;
  /** The journalled entry with its outcomes. */
  entry(position: Position): Promise<unknown>;
  /** Undefined where the window is not known or its samples are no longer kept. */
  waveSamples(waveId: Position): Promise<SamplesKept | undefined>;
  /** By window, the ids of the holds that keep its samples from being dropped. */
  wavePins(spindleId: string): Promise<Readonly<Record<Position, readonly string[]>>>;
  /** A raw window of a device whose secret was found right; resolves once it is durable, or refused. */
  receive(device: string, credential: Pick<DeviceCredential, 'kind' | 'serves'>, payload: Uint8Array): Promise<Receipt>;
  /** Prepared JSON text of each change frame. Returns how to stop. */
  subscribe(onFrame: (json: string) => void): () => void;
  /** A snapshot frame as JSON text, numbered like the change frames around it. */
  snapshotFrame(): Promise<string>;
}

export interface SamplesKept {
  readonly sampleRateHz: number;
  readonly accelerationMS2: Float32Array<ArrayBuffer>;
}

export interface Stretch {
  readonly from: Instant;
  readonly to: Instant;
  /** About as many buckets come back at most. */
  readonly points: number;
}

export interface SeriesPort {
  /** With speeds: only readings at these that tell of the spindle, warm, steady and not cutting. */
  series(
    wanted: Stretch & {
      readonly spindleId: string;
      readonly quantity: SeriesQuantity;
      readonly speeds?: { readonly fromRpm: number; readonly toRpm: number };
    },
  ): Promise<SeriesView>;
  windows(
    wanted: Omit<Stretch, 'points'> & {
      readonly spindleId: string;
      readonly limit: number;
      readonly chosen: WavesChosen;
    },
  ): Promise<{
    readonly waves: readonly Omit<WindowFound, 'spindleId'>[];
    readonly more: boolean;
    readonly stillReadPercent?: number;
  }>;
  window(id: Position): Promise<WindowFound | undefined>;
  spectrogram(
    wanted: Omit<Stretch, 'points'> & {
      readonly spindleId: string;
      readonly columns: number;
      readonly channel?: string;
    },
  ): Promise<SpectrogramView>;
  /** What happened from one instant to another, as far as the journal tells. */
  month(wanted: Omit<Stretch, 'points'>): Promise<MonthHappened>;
  /** Lines of the record, newest first, at most `limit`. */
  record(wanted: RecordWanted): Promise<RecordPage>;
  /** Of these spindles, or of all. */
  ribbons(wanted: Stretch & { readonly spindleIds?: readonly string[] }): Promise<RibbonsView>;
}

export interface RecordWanted {
  readonly by?: string;
  /** The id of a hold, a spindle, an assembly, a bench. */
  readonly about?: string;
  readonly kinds?: readonly RecordKind[];
  readonly from?: Instant;
  readonly to?: Instant;
  readonly before?: { readonly position: Position; readonly ordinal: number };
  readonly limit: number;
}

/** A window as the trends know it. */
export type WindowFound = Omit<WaveRow, 'pinnedBy'> & { readonly spindleId: string };

/** Other limits and settings tried on history, one draft at a time. */
export interface TryOutPort {
  start(asked: TryOutAsked): Promise<
    | { readonly kind: 'started'; readonly view: TryOutView }
    /** Another one runs. */
    | { readonly kind: 'busy' }
    /** No limit would be other, nor how long it must be exceeded; what is not tried may be. */
    | { readonly kind: 'nothing'; readonly changesUntried: boolean }
  >;
  view(id: string): TryOutView | undefined;
  cancel(id: string): Promise<TryOutView | undefined>;
}

/** The chain of what was decided and done, checked beside everything else; one check at a time. */
export interface VerifyPort {
  view(): VerificationView;
  /** Undefined while another runs. */
  start(by: string, noted: string | undefined): VerificationView | undefined;
  cancel(): Promise<VerificationView>;
}

export interface NoticePort {
  /** Sends a notice that is about no hold; undefined where nothing is set up to send one. */
  test(channel: string): Promise<{ readonly ok: boolean; readonly detail: string }> | undefined;
}
