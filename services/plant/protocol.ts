// What passes between the main thread and the plant's thread; both ends are typed from this one list.
import type { ActKind, Actor } from '../../shared/acts.ts';
import type { CorrectionQuestion } from '../../shared/correction/index.ts';
import type { Position } from '../../shared/entries.ts';
import type { GateAnswer } from '../../shared/gate.ts';
import type { GateQuestion } from '../../shared/messages/index.ts';
import type { Receipt } from '../../shared/receipts.ts';
import type { AnsweringView } from '../../shared/answering.ts';
import type { Travels } from '../../shared/travels.ts';
import type { Instant } from '../../shared/time.ts';
import type { InChannel } from '../../shared/topics.ts';
import type { AssemblyRow, AssemblyView } from '../../shared/assembly-views.ts';
import type { DeclaredLimits } from '../../shared/declared-limits.ts';
import type { PlantAheadView } from '../../shared/ahead-plant.ts';
import type { HeadroomView } from '../../shared/headroom.ts';
import type { MonthHours } from '../../shared/month.ts';
import type { ReferenceView } from '../../shared/reference-view.ts';
import type { ToolRoomView } from '../../shared/tool-room.ts';
import type { RulesView, TryFacts } from '../../shared/try-out.ts';
import type { WaveDone, WaveJob, WaveSamples } from '../../shared/wave-job.ts';
import type { FloorView, HoldView, IntakeView, RejectView, SpindleView } from '../../shared/views.ts';
import type { Publication } from '../holds/index.ts';
import type { Binding } from '../intake/index.ts';
import type { JournalSettings, WaitingForRoom } from '../journal/index.ts';
import type { ClockPace } from './clock.ts';
import type { ActDone, RetryDone, Told } from './plant.ts';

export interface PlantSettings {
  readonly plant: string;
  readonly zone: string;
  /** The demonstration's plant is invented, and every screen says so. */
  readonly invented: boolean;
  /** Secrets and readings can be heard on the network, and every screen says so. */
  readonly inTheClear: boolean;
  readonly journal: JournalSettings;
  /** What the samples of raw windows may take, bytes; WAVE_BYTES_MAX unless said. */
  readonly waveBytesMax?: number;
  readonly pace: ClockPace;
  readonly bindings: readonly (readonly [device: string, binding: Binding])[];
}

export interface Received {
  readonly device: string;
  readonly channel: InChannel;
  readonly payload: Uint8Array;
}

export type HoldsWanted = 'open' | 'ended' | 'all';
export interface RejectsWanted {
  readonly state?: 'open' | 'retried';
  readonly before?: Position;
  readonly limit: number;
}

/** Questions and acts; each is answered once. */
export interface PlantCalls {
  floor(): FloorView;
  spindle(id: string): SpindleView | undefined;
  assemblies(): readonly AssemblyRow[];
  assembly(id: string): AssemblyView | undefined;
  toolRoom(): ToolRoomView;
  /** What reaches its limit when; of one cell, or of all. */
  ahead(cell?: string): PlantAheadView;
  /** Of so many days up to now. */
  headroom(days: number): HeadroomView;
  /** What the floor remembers of a month, 2026-11. */
  month(month: string): MonthHours;
  /** Of all spindles. */
  declaredLimits(): DeclaredLimits;
  reference(): ReferenceView;
  rules(): RulesView;
  /** What a try-out of so many milliseconds back takes from now. */
  tryFacts(backMs: number): TryFacts;
  /** Undefined for an assembly that is not known; null where it has no such measurement. */
  adviceQuestion(assemblyId: string, position?: Position): CorrectionQuestion | null | undefined;
  holds(wanted: { readonly state: HoldsWanted; readonly limit: number }): readonly HoldView[];
  hold(id: string): HoldView | undefined;
  /** Undefined where the hold is not known, or is about no pair. */
  travels(holdId: string): Travels | undefined;
  answering(): AnsweringView;
  /** Open ones, and those that ended since; in the order of raising. */
  holdsSince(since: Instant): readonly HoldView[];
  gate(question: GateQuestion): GateAnswer;
  intake(): IntakeView;
  /** With an id of the sender's own the same act sent again changes nothing. */
  act(actor: Actor, kind: ActKind, data: unknown, id?: string): ActDone;
  rejects(wanted: RejectsWanted): readonly RejectView[];
  reject(position: Position): (RejectView & { readonly base64: string }) | undefined;
  retry(actor: Actor, position: Position): RetryDone;
  /** A device's message that came otherwise than by MQTT: the same intake, in the same order. */
  receive(message: Received): { readonly receipt: Receipt; readonly told: Told };
  /** What was made of raw windows, in one commit. Of each only the first is put on record. */
  analysed(done: readonly WaveDone[]): Told;
  /** Undefined where the window is not known or its samples were dropped. */
  waveSamples(waveId: Position): WaveSamples | undefined;
  /** By window of a spindle, the ids of the holds that keep its samples from being dropped. */
  wavePins(spindleId: string): Readonly<Record<Position, readonly string[]>>;
  /** Windows that nothing was made of, oldest first: a start has them analysed. `after` is the last one of the page before. */
  wavesWaiting(page: { readonly after: Position; readonly limit: number }): readonly WaveJob[];
  entry(position: Position): unknown;
  allPublications(): readonly Publication[];
  tick(): Told;
  enrol(device: string, binding: Binding): void;
  connection(device: string, connected: boolean): void;
  /** The snapshot frame as JSON text, numbered like the change frames around it. */
  snapshotFrame(): string;
  /** Change frames are made only while somebody looks. */
  watched(watched: boolean): void;
  /** Recorded lines into the journal in their own time; returns how many could not be used. */
  importLines(text: string): number;
  maintain(): void;
  close(): void;
}
export type PlantCallName = keyof PlantCalls;

export type ToPlant =
  | { readonly kind: 'packets'; readonly buffer: ArrayBuffer; readonly length: number }
  | { readonly kind: 'call'; readonly number: number; readonly name: PlantCallName; readonly args: readonly unknown[] };

export type FromPlant =
  | { readonly kind: 'ready'; readonly position: Position; readonly seconds: number }
  /** The buffer comes back, to be filled again. */
  | { readonly kind: 'admitted'; readonly told: Told; readonly buffer: ArrayBuffer }
  | { readonly kind: 'answer'; readonly number: number; readonly value: unknown }
  | { readonly kind: 'failed-call'; readonly number: number; readonly message: string }
  | { readonly kind: 'frame'; readonly json: string }
  /** The disk is full: a commit waits for room, and nothing is acknowledged meanwhile. Without `waiting` it waits no more. */
  | { readonly kind: 'full'; readonly waiting: WaitingForRoom | undefined }
  /** The journal can't be written any more: the process must end and be started again. */
  | { readonly kind: 'broken'; readonly message: string };
