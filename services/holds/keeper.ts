// Runs the rules over what the journal is storing, keeps the floor, and remembers what changed for those who look.
import type { AnsweringView } from '../../shared/answering.ts';
import type { CorrectionQuestion } from '../../shared/correction/index.ts';
import type { Draft, Entry, Position } from '../../shared/entries.ts';
import type { GateAnswer } from '../../shared/gate.ts';
import type { Hold } from '../../shared/holds.ts';
import type { DeviceKind } from '../../shared/ids.ts';
import type { GateQuestion } from '../../shared/messages/index.ts';
import type { Outcome } from '../../shared/outcomes.ts';
import type { AssemblyRow, AssemblyView } from '../../shared/assembly-views.ts';
import type { DeclaredLimits } from '../../shared/declared-limits.ts';
import type { PlantAheadView } from '../../shared/ahead-plant.ts';
import type { HeadroomView } from '../../shared/headroom.ts';
import type { MonthHours } from '../../shared/month.ts';
import type { ReferenceView } from '../../shared/reference-view.ts';
import type { Travels } from '../../shared/travels.ts';
import type { ToolRoomView } from '../../shared/tool-room.ts';
import type { RulesView, TryFacts } from '../../shared/try-out.ts';
import type { DeviceLane, FloorView, HoldView, IntakeView, SpindleRow, SpindleView } from '../../shared/views.ts';
import type { Journal, Snapshot } from '../journal/index.ts';
import { copyOfFloor, evolve, gate, RULES_VERSION, type Floor } from '../rules/index.ts';
import { benchAnswer, type BenchAnswer, type ResultTold } from './balance-answers.ts';
import { Changed, mayBeEmptied } from './changed.ts';
import { floorToBytes } from './floor-snapshot.ts';
import { decidedOrRemarked, floorThrough } from './floor-through.ts';
import { allPublicationsOf, answerPublication, publicationsOf, type Publication } from './publications.ts';
import { answeringView } from './views/answering-view.ts';
import { adviceQuestion } from './views/advice-question.ts';
import { assemblyRow, assemblyView } from './views/assembly-view.ts';
import { waveContext, type WaveCame, type WaveContext } from './wave-context.ts';
import { declaredLimitsView } from './views/declared-limits-view.ts';
import { headroomView } from './views/headroom-view.ts';
import { monthHours } from './views/month-hours.ts';
import { plantAheadView } from './views/plant-ahead-view.ts';
import { ShownAnew } from './shown-anew.ts';
import { holdsInOrder, holdView } from './views/hold-view.ts';
import { lanes } from './views/lanes.ts';
import { referenceView } from './views/reference-view.ts';
import { rulesView, tryFacts } from './views/rules-view.ts';
import { spindleRow, spindleView } from './views/spindle-view.ts';
import { toolRoomView } from './views/tool-room-view.ts';
import { travelsView } from './views/travels-view.ts';

export interface KeeperSettings {
  readonly journal: Pick<Journal, 'read' | 'latestSnapshot'>;
  readonly plant: string;
  readonly zone: string;
  readonly invented: boolean;
}

export interface DeviceBorn {
  readonly device: string;
  readonly kind: DeviceKind;
  readonly serves: readonly string[];
}

/** The newest snapshot of these rules, and what was recorded after it; nothing is decided a second time. */
export async function openKeeper(settings: KeeperSettings): Promise<Keeper> {
  const { floor, snapshotPosition } = await floorThrough(settings);
  return new Keeper(floor, settings, snapshotPosition);
}

export class Keeper {
  #floor: Floor;
  readonly #zone: string;
  readonly #invented: boolean;
  readonly #changed = new Changed();
  readonly #shownAnew = new ShownAnew();
  /** Spindles whose retained gate answer speaks of what is no longer in them. */
  readonly #emptied = new Set<string>();
  readonly #connected = new Set<string>();
  readonly #duplicates = new Map<string, number>();

  /** Of the snapshot that this start was spared the entries before; 0 without one. */
  readonly snapshotPosition: Position;

  constructor(floor: Floor, { zone, invented }: Pick<KeeperSettings, 'zone' | 'invented'>, snapshotPosition = 0) {
    this.snapshotPosition = snapshotPosition;
    this.#floor = floor;
    this.#zone = zone;
    this.#invented = invented;
  }

  /** Called within the journal's commit: what is returned is stored with the entries, and the floor has moved on. */
  decide(entries: readonly Entry[]): readonly Outcome[] {
    const all: Outcome[] = [];
    for (const entry of entries) {
      const outcomes = decidedOrRemarked(this.#floor, entry);
      const places = mayBeEmptied(this.#floor, entry);
      this.#floor = evolve(this.#floor, entry, outcomes);
      this.#changed.note(this.#floor, entry, outcomes);
      for (const id of places) this.#noteEmptied(id);
      for (const outcome of outcomes) all.push(outcome);
    }
    return all;
  }

  #noteEmptied(spindleId: string): void {
    this.#changed.spindle(spindleId);
    if (this.#floor.spindles.get(spindleId)?.loaded === undefined) this.#emptied.add(spindleId);
    else this.#emptied.delete(spindleId);
  }

  floorView(now: number, intake: IntakeView): FloorView {
    return {
      plant: this.#floor.plant,
      zone: this.#zone,
      now,
      invented: this.#invented,
      spindles: this.#rows(),
      holds: holdsInOrder(this.#floor, 'open', OPEN_HOLDS_SHOWN_MAX),
      intake,
    };
  }

  spindleView(id: string): SpindleView | undefined {
    const spindle = this.#floor.spindles.get(id);
    return spindle === undefined ? undefined : spindleView(this.#floor, spindle);
  }

  assemblies(): readonly AssemblyRow[] {
    const rows = [...this.#floor.assemblies.values()].map((assembly) => assemblyRow(this.#floor, assembly));
    return rows.toSorted((a, b) => (a.assemblyId < b.assemblyId ? -1 : 1));
  }

  assemblyView(id: string): AssemblyView | undefined {
    const assembly = this.#floor.assemblies.get(id);
    return assembly === undefined ? undefined : assemblyView(this.#floor, assembly);
  }

  toolRoomView(now: number): ToolRoomView {
    return toolRoomView(this.#floor, now, this.#invented);
  }

  plantAheadView(cell?: string): PlantAheadView {
    return plantAheadView(this.#floor, cell);
  }

  headroomView(now: number, days: number): HeadroomView {
    return headroomView(this.#floor, now, days);
  }

  monthHours(now: number, month: string): MonthHours {
    return monthHours(this.#floor, { now, zone: this.#zone, month });
  }

  declaredLimits(now: number): DeclaredLimits {
    return declaredLimitsView(this.#floor, now);
  }

  referenceView(): ReferenceView {
    return referenceView(this.#floor);
  }

  rulesView(): RulesView {
    return rulesView(this.#floor);
  }

  /** What a try-out of so many milliseconds back takes from now. */
  tryFacts(now: number, backMs: number): TryFacts {
    return tryFacts(this.#floor, now, backMs);
  }

  /** Undefined for an assembly that is not known; null where it has no such measurement. */
  adviceQuestion(assemblyId: string, position?: Position): CorrectionQuestion | null | undefined {
    const assembly = this.#floor.assemblies.get(assemblyId);
    return assembly === undefined ? undefined : (adviceQuestion(assembly, position) ?? null);
  }

  holds({ state, limit }: { readonly state: 'open' | 'ended' | 'all'; readonly limit: number }): readonly HoldView[] {
    return holdsInOrder(this.#floor, state, limit);
  }

  holdView(id: string): HoldView | undefined {
    const hold = this.#floor.holds.get(id);
    return hold === undefined ? undefined : holdView(this.#floor, hold);
  }

  travels(holdId: string): Travels | undefined {
    const hold = this.#floor.holds.get(holdId);
    return hold === undefined ? undefined : travelsView(this.#floor, hold);
  }

  answeringView(): AnsweringView {
    return answeringView(this.#floor);
  }

  /** In the order of raising; ended ones as long as the rules remember them. */
  allHolds(): readonly Hold[] {
    return [...this.#floor.holds.values()];
  }

  gate(question: GateQuestion): GateAnswer {
    return gate(this.#floor, question);
  }

  /**
   * The answer to a question that is on record already, asked again by a device that may have missed it. Answered as things
   * stand now, for what was no objection then may have been put on hold since; and put on record no second time.
   */
  answerAgain({ device, data }: Extract<Draft, { kind: 'query' }>, cause: Position): Publication {
    return answerPublication(this.#floor, gate(this.#floor, data), { toDevice: device, cause });
  }

  /** What a bench is told of its result, as things stand now. */
  benchAnswer(told: ResultTold): BenchAnswer | undefined {
    return benchAnswer(this.#floor, told);
  }

  /** What the analysis of a raw window has to know, as things stand now. */
  waveContext(came: WaveCame): WaveContext {
    return waveContext(this.#floor, came);
  }

  lanes(): readonly DeviceLane[] {
    return lanes(this.#floor, { connected: this.#connected, duplicates: this.#duplicates });
  }

  /** What devices said at birth of what they serve: after a start it is not said again. */
  births(): readonly DeviceBorn[] {
    return [...this.#floor.devices.values()].flatMap(({ device, kind, serves }) =>
      kind === undefined ? [] : [{ device, kind, serves }],
    );
  }

  connection(device: string, connected: boolean): void {
    if (connected) this.#connected.add(device);
    else this.#connected.delete(device);
  }

  repeated(draft: Draft | undefined): void {
    if (draft === undefined || !('device' in draft)) return;
    this.#duplicates.set(draft.device, (this.#duplicates.get(draft.device) ?? 0) + 1);
  }

  /** What changed since the last call, whole rows; of open holds what time and loads changed as well. */
  changes(): { readonly spindles: readonly SpindleRow[]; readonly holds: readonly HoldView[] } {
    const { spindles, holds } = this.#changed.take();
    return {
      spindles: [...spindles].flatMap((id) => {
        const spindle = this.#floor.spindles.get(id);
        return spindle === undefined ? [] : [spindleRow(this.#floor, spindle)];
      }),
      holds: [...new Set([...holds, ...this.#shownAnew.take(this.#floor)])].flatMap((id) => this.holdView(id) ?? []),
    };
  }

  /** Of one commit: to be called after each `decide` whose outcomes were stored. */
  publications(outcomes: readonly Outcome[]): readonly Publication[] {
    const emptied = [...this.#emptied];
    this.#emptied.clear();
    return publicationsOf(this.#floor, outcomes, emptied);
  }

  allPublications(): readonly Publication[] {
    return allPublicationsOf(this.#floor);
  }

  /** Of this moment; deciding goes on while it is written down. */
  async snapshot(): Promise<Snapshot> {
    const floor = copyOfFloor(this.#floor);
    return { position: floor.position, version: RULES_VERSION, body: await floorToBytes(floor) };
  }

  /** Fixed order by cell, then by name: places are remembered. */
  #rows(): SpindleRow[] {
    return [...this.#floor.spindles.values()]
      .map((spindle) => spindleRow(this.#floor, spindle))
      .toSorted((a, b) => order(a.cell, b.cell) || order(a.spindleId, b.spindleId));
  }
}

const OPEN_HOLDS_SHOWN_MAX = 1000;

function order(a: string, b: string): number {
  return a === b ? 0 : a < b ? -1 : 1;
}
