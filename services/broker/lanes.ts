// All connections: who is signed in on which, which are not read at the moment, and how each comes to its end.
import type { Socket } from 'node:net';
import type { Budget } from './budget.ts';
import { Lane, type LaneHost } from './lane.ts';
import type { Refusal, RefusalReason } from './refusals.ts';
import type { BrokerLimits } from './settings.ts';
import { watchLane } from './watch.ts';

const TICK_MS = 100;
const TICKS_PER_WATCH = 5;
/** A tick later than this says that the process stood still: what devices sent meanwhile has not been read yet. */
const STOOD_STILL_MS = 1_000;

export interface LanesPorts {
  connection(device: string, connected: boolean): void;
  report(refusal: Refusal): void;
  /** The connection was lost without a goodbye. */
  lost(lane: Lane): void;
}

export class Lanes implements LaneHost {
  readonly limits: BrokerLimits;
  readonly budget: Budget;
  readonly waiting = new Set<Lane>();
  /** The end has begun: nothing new is read. */
  closing = false;
  readonly #ports: LanesPorts;
  readonly #all = new Set<Lane>();
  readonly #byDevice = new Map<string, Lane>();
  #ticker: NodeJS.Timeout | undefined;
  #tickedAtMs = 0;
  #opened = 0;
  #ticks = 0;
  #wakeIsDue = false;
  #letInTokens: number;

  constructor(limits: BrokerLimits, budget: Budget, ports: LanesPorts) {
    this.limits = limits;
    this.budget = budget;
    this.#ports = ports;
    this.#letInTokens = limits.connectsPerSecond;
  }

  start(): void {
    this.#tickedAtMs = this.nowMs();
    this.#ticker = setInterval(() => this.#tick(), TICK_MS);
  }

  get connections(): number {
    return this.#all.size;
  }

  get devices(): number {
    return this.#byDevice.size;
  }

  nowMs(): number {
    return performance.now();
  }

  letIn(): boolean {
    if (this.#letInTokens < 1) return false;
    this.#letInTokens -= 1;
    return true;
  }

  add(socket: Socket): Lane {
    const lane = new Lane(++this.#opened, socket, this);
    this.#all.add(lane);
    socket.once('close', () => this.end(lane));
    return lane;
  }

  /** Another connection of the same device ends here, before the new one is answered: its will comes first. */
  takeOver(device: string, by: Lane): void {
    const old = this.#byDevice.get(device);
    if (old !== undefined && old !== by)
      this.refuse(old, 'taken-over', `by connection ${by.number} from ${by.address}`);
  }

  ready(lane: Lane): void {
    const { device } = lane;
    if (device === undefined || lane.stage === 'closed') return;
    this.takeOver(device, lane);
    this.#byDevice.set(device, lane);
    this.#ports.connection(device, true);
    lane.opened();
  }

  refuse(lane: Lane, reason: RefusalReason, detail: string): void {
    if (lane.stage === 'closed') return;
    this.#ports.report({ ...(lane.device === undefined ? {} : { device: lane.device }), reason, detail });
    this.end(lane);
  }

  disconnect(device: string): void {
    const lane = this.#byDevice.get(device);
    if (lane !== undefined) this.end(lane);
  }

  end(lane: Lane): void {
    if (lane.stage === 'closed') return;
    const wasOpen = lane.stage === 'open';
    lane.closed();
    this.#all.delete(lane);
    lane.socket.destroy();
    const { device, share } = lane;
    if (device === undefined || share === undefined) return;
    if (wasOpen && !lane.goodbye && !this.closing) this.#ports.lost(lane);
    const isCurrent = this.#byDevice.get(device) === lane;
    if (isCurrent) this.#byDevice.delete(device);
    if (!this.#byDevice.has(device)) this.budget.disconnected(share);
    if (isCurrent) this.#ports.connection(device, false);
  }

  /** Something became durable: whoever waits for it is looked at once this turn of the loop is over. */
  released(): void {
    if (this.waiting.size === 0 || this.#wakeIsDue) return;
    this.#wakeIsDue = true;
    setImmediate(() => this.#wake());
  }

  /** Ends every connection, those in the middle of a message too. */
  close(): void {
    clearInterval(this.#ticker);
    for (const lane of this.#all) this.end(lane);
  }

  #wake(): void {
    this.#wakeIsDue = false;
    const nowMs = this.nowMs();
    // A copy, because whoever has more to send than fits waits again at the end of the line.
    for (const lane of Array.from(this.waiting)) lane.resumeIfPossible(nowMs);
  }

  #tick(): void {
    const nowMs = this.nowMs();
    const sinceMs = nowMs - this.#tickedAtMs;
    this.#tickedAtMs = nowMs;
    const gained = (this.limits.connectsPerSecond * sinceMs) / 1000;
    this.#letInTokens = Math.min(this.limits.connectsPerSecond, this.#letInTokens + gained);
    if (this.waiting.size > 0) this.#wake();
    if (sinceMs > STOOD_STILL_MS) for (const lane of this.#all) lane.heardAtMs = nowMs;
    this.#ticks += 1;
    if (this.#ticks % TICKS_PER_WATCH !== 0) return;
    for (const lane of this.#all) watchLane(lane, this);
    this.budget.tidy(nowMs);
  }
}
