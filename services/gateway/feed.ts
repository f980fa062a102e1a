// The feed: one subscription at the plant for all dashboards, each frame prepared once, sessions looked at again and again.
import type { FastifyBaseLogger } from 'fastify';
import type { WebSocket } from 'ws';
import type { AccessStore } from '../access/index.ts';
import { FeedMember, type Frame, type MemberPorts } from './feed-member.ts';
import type { GatewayLimits } from './limits.ts';
import type { PlantPort } from './ports.ts';

/** Close codes: ours from the private range (RFC 6455, 7.4.2), the others from 7.4.1. */
export const SESSION_OVER = 4401;
const GOING_AWAY = 1001;
const NOT_EXPECTED = 1008;

export interface FeedCounts {
  connections: number;
  frames: number;
  snapshots: number;
  /** How often somebody fell behind and got a snapshot instead of frames. */
  skipped: number;
  letGo: number;
}

export interface Feed {
  /** Call in the same turn as the upgrade: what the client sends first is not lost. */
  join(who: { socket: WebSocket; name: string; token: string }): void;
  hasRoomFor(name: string): boolean;
  readonly counts: FeedCounts;
  close(): void;
}

export interface FeedParts {
  readonly plant: Pick<PlantPort, 'subscribe' | 'snapshotFrame'>;
  readonly access: Pick<AccessStore, 'personOf' | 'listen'>;
  readonly limits: GatewayLimits;
  readonly log: FastifyBaseLogger;
}

export function createFeed(parts: FeedParts): Feed {
  return new PlantFeed(parts);
}

class PlantFeed implements Feed {
  readonly counts: FeedCounts = { connections: 0, frames: 0, snapshots: 0, skipped: 0, letGo: 0 };
  readonly #parts: FeedParts;
  readonly #members = new Set<FeedMember>();
  readonly #ports: MemberPorts;
  readonly #stopListening: () => void;
  readonly #rounds: NodeJS.Timeout;
  #unsubscribe: (() => void) | undefined;
  #lastNumber: number | undefined;
  #asked: Promise<Frame> | undefined;
  #snapshotBytes = 0;

  constructor(parts: FeedParts) {
    this.#parts = parts;
    this.#ports = {
      askSnapshot: (member) => void this.#bringSnapshot(member),
      bufferedBytesMax: () => Math.max(parts.limits.feedBufferedBytesMax, 2 * this.#snapshotBytes),
      now: () => performance.now(),
      skipped: () => void (this.counts.skipped += 1),
    };
    this.#stopListening = parts.access.listen((change) => {
      if (change.kind === 'person-changed') this.#lookAgain((member) => member.name === change.name);
    });
    this.#rounds = setInterval(() => this.#round(), parts.limits.feedPingMs);
    this.#rounds.unref();
  }

  hasRoomFor(name: string): boolean {
    const { feedConnectionsMax, feedConnectionsPerPersonMax } = this.#parts.limits;
    const own = [...this.#members].filter((member) => member.name === name).length;
    return this.#members.size < feedConnectionsMax && own < feedConnectionsPerPersonMax;
  }

  join(who: { socket: WebSocket; name: string; token: string }): void {
    const { feedPendingFramesMax, feedBehindMs } = this.#parts.limits;
    const limits = { pendingFramesMax: feedPendingFramesMax, behindMs: feedBehindMs };
    const member = new FeedMember(who, limits, this.#ports);
    who.socket.on('message', () => who.socket.close(NOT_EXPECTED, 'nothing is expected from here'));
    who.socket.on('pong', () => void (member.alive = true));
    who.socket.on('close', () => this.#leave(member));
    this.#members.add(member);
    this.counts.connections = this.#members.size;
    this.#unsubscribe ??= this.#parts.plant.subscribe((json) => this.#spread(json));
    member.begin();
  }

  close(): void {
    clearInterval(this.#rounds);
    this.#stopListening();
    this.#stopFollowing();
    for (const { socket } of this.#members) socket.close(GOING_AWAY, 'the service stops');
  }

  #leave(member: FeedMember): void {
    this.#members.delete(member);
    this.counts.connections = this.#members.size;
    if (this.#members.size === 0) this.#stopFollowing();
  }

  #stopFollowing(): void {
    this.#unsubscribe?.();
    this.#unsubscribe = undefined;
    this.#lastNumber = undefined;
  }

  #spread(json: string): void {
    const frame = { number: frameNumber(json), bytes: Buffer.from(json) };
    this.#lastNumber = frame.number;
    this.counts.frames += 1;
    for (const member of this.#members) member.take(frame);
  }

  async #bringSnapshot(member: FeedMember): Promise<void> {
    try {
      // Members that ask at the same time share one; whoever finds it too old for what it saw asks again.
      this.#asked ??= this.#takeSnapshot();
      const snapshot = await this.#asked;
      member.arrive(snapshot, this.#lastNumber);
    } catch (error) {
      this.#parts.log.error({ err: error }, 'the plant gave no snapshot');
      this.#letGo(member);
    }
  }

  async #takeSnapshot(): Promise<Frame> {
    try {
      const json = await this.#parts.plant.snapshotFrame();
      const bytes = Buffer.from(json);
      this.#snapshotBytes = bytes.length;
      this.counts.snapshots += 1;
      return { number: frameNumber(json), bytes };
    } finally {
      this.#asked = undefined;
    }
  }

  #round(): void {
    for (const member of this.#members) {
      if (!member.alive) {
        this.#letGo(member);
        continue;
      }
      member.alive = false;
      member.socket.ping();
    }
    this.#lookAgain(() => true);
  }

  /** Looking is not use: a screen that nobody touches ends with its session. */
  #lookAgain(concerns: (member: FeedMember) => boolean): void {
    for (const member of this.#members) {
      if (!concerns(member)) continue;
      this.#parts.access.personOf(member.token, { use: false }).then(
        (person) => {
          if (person === undefined) member.socket.close(SESSION_OVER, 'the session is over');
        },
        (error: unknown) => {
          // Not known to be allowed is not allowed.
          this.#parts.log.error({ err: error }, 'a session could not be looked up');
          this.#letGo(member);
        },
      );
    }
  }

  #letGo(member: FeedMember): void {
    this.counts.letGo += 1;
    member.socket.terminate();
  }
}

const FRAME_START = /^\{"frame":"(?:change|snapshot)","number":(\d+)[,}]/;

/** Reads the number from the beginning where frames are written as ours are, without reading a whole snapshot. */
function frameNumber(json: string): number {
  const [, digits] = FRAME_START.exec(json) ?? [];
  return digits === undefined ? (JSON.parse(json) as { number: number }).number : Number(digits);
}
