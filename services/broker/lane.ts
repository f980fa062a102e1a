// One connection: decides byte by byte whether its socket is read on, and remembers what is still owed to it.
import type { Socket } from 'node:net';
import { OwedAcknowledgements } from './acknowledgements.ts';
import type { Budget, Share } from './budget.ts';
import { CLOSE, PacketWalk, type PacketGate, type Verdict } from './packet-walk.ts';
import type { Credential } from './ports.ts';
import type { RefusalReason } from './refusals.ts';
import type { BrokerLimits } from './settings.ts';

/** What all connections have in common. */
export interface LaneHost {
  readonly limits: BrokerLimits;
  readonly budget: Budget;
  /** The end has begun: nothing that begins a message passes any more. */
  readonly closing: boolean;
  /** Connections that are not read, in the order in which they stopped. */
  readonly waiting: Set<Lane>;
  nowMs(): number;
  /** Takes one of the connections that may be let in this second. */
  letIn(): boolean;
  refuse(lane: Lane, reason: RefusalReason, detail: string): void;
}

export interface Will {
  readonly topic: string;
  readonly payload: Uint8Array;
}

type Stage = 'connecting' | 'authenticating' | 'open' | 'closed';

/** MQTT 3.1.1, 2.2.1: packet types in the upper half of the first byte. */
const CONNECT = 1;
const PUBLISH = 3;
const DISCONNECT = 14;
const AT_MOST_QOS = 1;

export class Lane implements PacketGate {
  stage: Stage = 'connecting';
  /** The name it signed in with. */
  credential: Credential | undefined;
  share: Share | undefined;
  will: Will | undefined;
  /** It said goodbye, so its will is void. */
  goodbye = false;
  /** It was answered with a refusal already; how its connection then ends says nothing more. */
  turnedAway = false;
  /** The topic of its last message, found to be its own: nearly always that of the next one. */
  lastTopic: string | undefined;
  readonly owed = new OwedAcknowledgements();
  keepaliveMs: number;
  heardAtMs: number;
  readonly openedAtMs: number;
  readonly socket: Socket;
  readonly number: number;
  readonly address: string;
  readonly #host: LaneHost;
  readonly #walk = new PacketWalk();
  readonly #take: (size?: number) => Buffer | null;
  #unfinishedSinceMs: number | undefined;
  /** Packets that passed here and have not come out of the parser yet. */
  #passed = 0;
  #passedBytes = 0;
  #readsOn = false;

  constructor(number: number, socket: Socket, host: LaneHost) {
    this.number = number;
    this.socket = socket;
    this.address = socket.remoteAddress ?? 'an unknown address';
    this.#host = host;
    this.openedAtMs = host.nowMs();
    this.heardAtMs = this.openedAtMs;
    this.keepaliveMs = host.limits.keepaliveMaxSeconds * 1000;
    this.#take = socket.read.bind(socket) as (size?: number) => Buffer | null;
    // The parser asks for bytes here. Not reading is what slows a device down: TCP passes it on to the sender.
    socket.read = (size?: number) => this.#read(size);
  }

  get isWaiting(): boolean {
    return this.#host.waiting.has(this);
  }

  get device(): string | undefined {
    return this.credential?.device;
  }

  /** Since when the packet that is coming in has been unfinished. */
  get unfinishedSinceMs(): number | undefined {
    return this.#walk.unfinished ? this.#unfinishedSinceMs : undefined;
  }

  signedIn(credential: Credential): void {
    this.credential = credential;
    this.share = this.#host.budget.shareOf(credential.device, this.#host.nowMs());
  }

  /** The device has been answered: what it sent meanwhile may come. */
  opened(): void {
    if (this.stage !== 'authenticating') return;
    this.stage = 'open';
    this.heardAtMs = this.#host.nowMs();
    this.resumeIfPossible(this.heardAtMs);
  }

  /** A message came out of the parser; what was reserved for it is now the admission's to give back. */
  arrived(bytes: number): void {
    this.#passed -= 1;
    this.#passedBytes -= bytes;
  }

  /** Gives back what was reserved for packets that will never come out of the parser. */
  closed(): void {
    this.stage = 'closed';
    this.#host.waiting.delete(this);
    if (this.share === undefined) return;
    this.#host.budget.release(this.share, this.#passed, this.#passedBytes);
    this.#passed = 0;
    this.#passedBytes = 0;
  }

  /** Reads on after waiting, unless there is still a reason to wait. */
  resumeIfPossible(nowMs: number): void {
    if (!this.isWaiting) return;
    this.heardAtMs = nowMs;
    if (this.shut) return;
    if (this.share !== undefined) {
      this.#host.budget.refill(this.share, nowMs);
      if (this.share.tokens < 1 || !this.#host.budget.isLow(this.share)) return;
    }
    this.#host.waiting.delete(this);
    this.socket.emit('readable');
  }

  /**
   * Reads what has come although earlier messages are not durable yet. aedes holds back one read for each of them, and
   * takes each `readable` for the end of one: pings would go unanswered for as long as the store stalls. How much may be
   * outstanding is for the budget to say.
   */
  readOn(): void {
    if (this.#readsOn) return;
    this.#readsOn = true;
    let tries = this.share?.packets ?? 0;
    while (tries-- > 0 && this.socket.readableLength > 0 && this.stage === 'open' && !this.isWaiting) {
      this.socket.emit('readable');
    }
    this.#readsOn = false;
  }

  get shut(): boolean {
    return this.stage === 'authenticating' || this.#host.closing;
  }

  begin(firstByte: number, length: number, mayWait: boolean): Verdict {
    const type = firstByte >> 4;
    if (this.stage === 'connecting') return this.#beginConnect(type, length, mayWait);
    if (type === PUBLISH) return this.#beginPublish((firstByte >> 1) & 3, length, mayWait);
    if (length > this.#host.limits.controlBytesMax) return this.#tooLarge(length);
    if (type === DISCONNECT) this.goodbye = true;
    return this.#spend(mayWait) ? 'pass' : 'wait';
  }

  malformed(): void {
    this.#host.refuse(this, 'not-mqtt', 'a packet whose length cannot be read');
  }

  #read(size?: number): Buffer | null {
    if (size === 0) return this.#take(0);
    if (this.isWaiting || this.stage === 'closed') return null;
    const chunk = this.#take();
    if (chunk === null) return null;
    this.heardAtMs = this.#host.nowMs();
    if (this.share !== undefined) this.#host.budget.refill(this.share, this.heardAtMs);
    if (!this.#walk.unfinished) this.#unfinishedSinceMs = undefined;
    const passing = this.#walk.through(chunk, this);
    if (passing === CLOSE) return null;
    if (this.#walk.unfinished) this.#unfinishedSinceMs ??= this.heardAtMs;
    if (passing === chunk.length) return chunk;
    this.#host.waiting.add(this);
    this.socket.unshift(chunk.subarray(passing));
    return passing === 0 ? null : chunk.subarray(0, passing);
  }

  #beginConnect(type: number, length: number, mayWait: boolean): Verdict {
    if (type !== CONNECT) {
      this.#host.refuse(this, 'not-mqtt', 'the first packet is not CONNECT');
      return 'close';
    }
    if (length > this.#host.limits.controlBytesMax) return this.#tooLarge(length);
    if (!this.#host.letIn() && mayWait) return 'wait';
    this.stage = 'authenticating';
    return 'pass';
  }

  #beginPublish(qos: number, length: number, mayWait: boolean): Verdict {
    const { limits, budget } = this.#host;
    if (qos > AT_MOST_QOS) {
      this.#host.refuse(
        this,
        'exactly-once-unsupported',
        'messages are taken at QoS 0 and 1; repeats are known by their id',
      );
      return 'close';
    }
    if (length > limits.packetBytesMax) return this.#tooLarge(length);
    const share = this.share;
    if (share === undefined) return 'close';
    if ((!budget.fits(share, length) || share.tokens < 1) && mayWait) return 'wait';
    budget.spend(share);
    budget.reserve(share, length);
    this.#passed += 1;
    this.#passedBytes += length;
    return 'pass';
  }

  #spend(mayWait: boolean): boolean {
    const share = this.share;
    if (share === undefined) return true;
    if (share.tokens < 1 && mayWait) return false;
    this.#host.budget.spend(share);
    return true;
  }

  #tooLarge(length: number): Verdict {
    this.#host.refuse(this, 'packet-too-large', `a packet of ${length} bytes`);
    return 'close';
  }
}
