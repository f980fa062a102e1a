// Answers the main thread's calls from the floor in memory and the journal; makes the feed's frames.
import { FEED_BEAT_MS, FEED_GATHER_MS, type FeedFrame } from '../../shared/feed.ts';
import type { Position } from '../../shared/entries.ts';
import { isOpen } from '../../shared/holds.ts';
import type { Clock, Instant } from '../../shared/time.ts';
import { inTopic } from '../../shared/topics.ts';
import type { FloorView, HoldView, IntakeView, RejectView } from '../../shared/views.ts';
import type { Keeper } from '../holds/index.ts';
import type { Intake } from '../intake/index.ts';
import type { Journal, RejectedRow } from '../journal/index.ts';
import { LinePlayer } from './line-player.ts';
import type { Plant } from './plant.ts';
import type { PlantCalls } from './protocol.ts';
import { makeRoom, WAVE_BYTES_MAX, type RoomTaken } from './wave-room.ts';
import { holdsPinning } from './wave-pins.ts';
import { jobsWaiting, samplesOf } from './windows.ts';

export interface DeskParts {
  readonly plant: Plant;
  readonly keeper: Keeper;
  readonly journal: Journal;
  readonly intake: Intake;
  readonly clock: Clock;
  /** Secrets and readings can be heard on the network, and every screen says so. */
  readonly inTheClear: boolean;
  /** What the samples of raw windows may take. */
  readonly waveBytesMax?: number | undefined;
  readonly sendFrame: (json: string) => void;
}

/** Each call of the protocol, answered now or later. */
export type DeskCalls = {
  readonly [N in keyof PlantCalls]: (
    ...args: Parameters<PlantCalls[N]>
  ) => ReturnType<PlantCalls[N]> | Promise<ReturnType<PlantCalls[N]>>;
};

/** After so many entries a snapshot spares the next start their replay. */
export const SNAPSHOT_EVERY_ENTRIES = 100_000;
const EXCERPT_BYTES_MAX = 400;

export class Desk {
  readonly calls: DeskCalls;
  readonly #parts: DeskParts;
  #number = 0;
  #watched = false;
  #windows: RoomTaken | undefined;
  #snapshotPosition: Position;
  #saving: Promise<void> | undefined;
  readonly #timers: NodeJS.Timeout[] = [];

  constructor(parts: DeskParts) {
    this.#parts = parts;
    this.#snapshotPosition = parts.keeper.snapshotPosition;
    const { plant, keeper, journal, intake, clock } = parts;
    this.calls = {
      floor: async () => this.#floorView(await this.#intakeView()),
      spindle: (id) => keeper.spindleView(id),
      assemblies: () => keeper.assemblies(),
      assembly: (id) => keeper.assemblyView(id),
      toolRoom: () => keeper.toolRoomView(clock.now()),
      ahead: (cell) => keeper.plantAheadView(cell),
      headroom: (days) => keeper.headroomView(clock.now(), days),
      month: (month) => keeper.monthHours(clock.now(), month),
      declaredLimits: () => keeper.declaredLimits(clock.now()),
      reference: () => keeper.referenceView(),
      rules: () => keeper.rulesView(),
      tryFacts: (backMs) => keeper.tryFacts(clock.now(), backMs),
      adviceQuestion: (assemblyId, position) => keeper.adviceQuestion(assemblyId, position),
      holds: (wanted) => keeper.holds(wanted),
      hold: (id) => keeper.holdView(id),
      travels: (id) => keeper.travels(id),
      answering: () => keeper.answeringView(),
      holdsSince: (since) => this.#holdsSince(since),
      gate: (question) => keeper.gate(question),
      intake: () => this.#intakeView(),
      act: (actor, kind, data, id) => plant.act(actor, kind, data, id === undefined ? undefined : { id }),
      rejects: async (wanted) => (await journal.rejected(wanted)).map(rejectView),
      reject: async (position) => {
        const row = await journal.rejectedAt(position);
        return row === undefined
          ? undefined
          : { ...rejectView(row), base64: Buffer.from(row.bytes).toString('base64') };
      },
      retry: (actor, position) => plant.retry(actor, position),
      receive: ({ device, channel, payload }) => {
        const topic = inTopic(plant.id, device, channel);
        return plant.receive({ topic, payload, at: clock.now(), connection: 0, dup: false });
      },
      analysed: (done) => plant.analysed(done),
      waveSamples: (waveId) => samplesOf(journal, waveId),
      wavePins: (spindleId) => holdsPinning(journal, keeper.allHolds(), spindleId),
      wavesWaiting: (page) => jobsWaiting(journal, keeper, page),
      entry: (position) => this.#entry(position),
      allPublications: () => keeper.allPublications(),
      tick: () => plant.tick(),
      enrol: (device, binding) => intake.enrol(device, binding),
      connection: (device, connected) => keeper.connection(device, connected),
      snapshotFrame: () => this.#snapshotFrame(),
      watched: (watched) => {
        this.#watched = watched;
      },
      importLines: (text) => this.#importLines(text),
      maintain: () => this.#maintain(),
      close: () => this.#close(),
    };
  }

  start(): void {
    this.#timers.push(
      setInterval(() => this.sendChanges(), FEED_GATHER_MS),
      setInterval(() => this.#beat(), FEED_BEAT_MS),
    );
  }

  /** Sends what changed since the frame before; nothing where nothing did or nobody looks. */
  sendChanges(): void {
    if (!this.#watched) return;
    const { spindles, holds } = this.#parts.keeper.changes();
    if (spindles.length === 0 && holds.length === 0) return;
    this.#send({ frame: 'change', number: (this.#number += 1), now: this.#parts.clock.now(), spindles, holds });
  }

  #beat(): void {
    if (!this.#watched) return;
    const beat = async (): Promise<void> => {
      const intake = await this.#intakeView();
      const { spindles, holds } = this.#parts.keeper.changes();
      this.#send({
        frame: 'change',
        number: (this.#number += 1),
        now: this.#parts.clock.now(),
        spindles,
        holds,
        intake,
      });
    };
    // It asks the journal, which may be closing; the next beat or the end says more than a failed one.
    beat().catch(() => undefined);
  }

  #send(frame: FeedFrame): void {
    this.#parts.sendFrame(JSON.stringify(frame));
  }

  async #snapshotFrame(): Promise<string> {
    const intake = await this.#intakeView();
    // From here to the end nothing awaits: the number and the picture belong together.
    this.sendChanges();
    const floor = this.#floorView(intake);
    return JSON.stringify({ frame: 'snapshot', number: this.#number, floor } satisfies FeedFrame);
  }

  #floorView(intake: IntakeView): FloorView {
    const { keeper, clock, inTheClear } = this.#parts;
    const view = keeper.floorView(clock.now(), intake);
    return inTheClear ? { ...view, inTheClear } : view;
  }

  #holdsSince(since: Instant): readonly HoldView[] {
    const { keeper } = this.#parts;
    return keeper.allHolds().flatMap((hold) => {
      const isWanted = isOpen(hold) || (hold.steps.at(-1)?.at ?? hold.raisedAt) >= since;
      return isWanted ? (keeper.holdView(hold.holdId) ?? []) : [];
    });
  }

  async #intakeView(): Promise<IntakeView> {
    const { journal, keeper } = this.#parts;
    const rejectsOpen = await journal.countRejected('open');
    const head = await journal.head();
    return {
      devices: [...keeper.lanes()],
      rejectsOpen,
      journal: { position: head.position, ...(head.position > 0 ? { at: head.at } : {}) },
      ...(this.#windows === undefined ? {} : { windows: this.#windows }),
    };
  }

  async #entry(position: number): Promise<unknown> {
    for await (const stretch of this.#parts.journal.read(position, position)) {
      const entry = stretch.entries.find((one) => one.position === position);
      if (entry !== undefined) return { entry, outcomes: stretch.outcomes.filter((one) => one.cause === position) };
    }
    return undefined;
  }

  async #importLines(text: string): Promise<number> {
    let faults = 0;
    const fault = (): void => void (faults += 1);
    const player = new LinePlayer(this.#parts.plant, { tickMs: 0, exact: false, fault });
    await player.take(text.split('\n'));
    await player.flush();
    return faults;
  }

  async #maintain(): Promise<void> {
    const { journal } = this.#parts;
    const { position } = await journal.head();
    if (position - this.#snapshotPosition >= SNAPSHOT_EVERY_ENTRIES) await this.#saveSnapshot();
    await journal.compact();
    const { keeper, waveBytesMax = WAVE_BYTES_MAX } = this.#parts;
    this.#windows = await makeRoom(journal, keeper.allHolds(), waveBytesMax);
  }

  /** One at a time: it is written down in pieces, between batches. */
  #saveSnapshot(): Promise<void> {
    const save = async (): Promise<void> => {
      const { journal, keeper } = this.#parts;
      const snapshot = await keeper.snapshot();
      await journal.saveSnapshot(snapshot);
      this.#snapshotPosition = snapshot.position;
    };
    this.#saving ??= save().finally(() => {
      this.#saving = undefined;
    });
    return this.#saving;
  }

  async #close(): Promise<void> {
    for (const timer of this.#timers) clearInterval(timer);
    const { journal } = this.#parts;
    await this.#saving?.catch(() => undefined);
    const { position } = await journal.head();
    if (position > this.#snapshotPosition) await this.#saveSnapshot();
    await journal.close();
  }
}

function rejectView(row: RejectedRow): RejectView {
  const { position, at, device, topic, problem, bytes, state } = row;
  return { position, at, device, topic, problem, bytes: bytes.length, excerpt: excerpt(bytes), state };
}

/** Text as text, all else as \xNN: a person can read it and nothing in it can act. */
function excerpt(bytes: Uint8Array): string {
  const head = bytes.subarray(0, EXCERPT_BYTES_MAX);
  const text = new TextDecoder().decode(head);
  if (!text.includes('\uFFFD')) return text;
  return Array.from(head, (byte) =>
    byte >= 0x20 && byte < 0x7f ? String.fromCharCode(byte) : `\\x${byte.toString(16).padStart(2, '0')}`,
  ).join('');
}
