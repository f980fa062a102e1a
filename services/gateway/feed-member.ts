// One dashboard on the feed: waits for its snapshot, then gets each next frame; one that cannot keep up gets a fresh snapshot instead.
import type { WebSocket } from 'ws';

export interface Frame {
  readonly number: number;
  /** Prepared once for all members: the sockets share these bytes. */
  readonly bytes: Buffer;
}

export interface MemberLimits {
  readonly pendingFramesMax: number;
  readonly behindMs: number;
}

export interface MemberPorts {
  /** Asks for a snapshot; `arrive` or `missed` follows. */
  readonly askSnapshot: (member: FeedMember) => void;
  readonly bufferedBytesMax: () => number;
  readonly now: () => number;
  readonly skipped: () => void;
}

type State =
  | { readonly kind: 'waiting'; pending: Frame[] }
  | { readonly kind: 'live'; number: number }
  | { readonly kind: 'behind'; readonly since: number };

/** So many snapshots in a row that do not fit what follows: the numbers make no sense, a new connection is better. */
const SNAPSHOT_TRIES_MAX = 10;

export class FeedMember {
  readonly socket: WebSocket;
  readonly name: string;
  readonly token: string;
  /** Answered the last ping. */
  alive = true;
  readonly #limits: MemberLimits;
  readonly #ports: MemberPorts;
  #state: State = { kind: 'waiting', pending: [] };
  #tries = 0;

  constructor(who: { socket: WebSocket; name: string; token: string }, limits: MemberLimits, ports: MemberPorts) {
    this.socket = who.socket;
    this.name = who.name;
    this.token = who.token;
    this.#limits = limits;
    this.#ports = ports;
  }

  /** Frames that come from now on are kept until the snapshot is there: nothing between the two is lost. */
  begin(): void {
    this.#state = { kind: 'waiting', pending: [] };
    this.#ports.askSnapshot(this);
  }

  take(frame: Frame): void {
    const state = this.#state;
    switch (state.kind) {
      case 'waiting':
        state.pending.push(frame);
        // The oldest goes: the snapshot will be newer, or a gap is seen and another snapshot asked for.
        if (state.pending.length > this.#limits.pendingFramesMax) state.pending.shift();
        return;
      case 'live':
        if (frame.number <= state.number) return;
        if (frame.number !== state.number + 1) return this.begin();
        if (this.socket.bufferedAmount > this.#ports.bufferedBytesMax()) return this.#fallBehind();
        state.number = frame.number;
        this.#send(frame.bytes);
        return;
      case 'behind':
        if (this.socket.bufferedAmount === 0) this.begin();
        else if (this.#ports.now() - state.since > this.#limits.behindMs) this.socket.terminate();
    }
  }

  /** The snapshot, then what came after it. A snapshot that is too old for what follows is not sent. */
  arrive(snapshot: Frame, lastNumber: number | undefined): void {
    const state = this.#state;
    if (state.kind !== 'waiting') return;
    const after = state.pending.filter((frame) => frame.number > snapshot.number);
    const [next] = after;
    const missing = next === undefined ? snapshot.number < (lastNumber ?? 0) : next.number !== snapshot.number + 1;
    if (missing) return this.#askAgain();
    this.#tries = 0;
    this.#state = { kind: 'live', number: snapshot.number };
    this.#send(snapshot.bytes);
    for (const frame of after) this.take(frame);
  }

  #askAgain(): void {
    this.#tries += 1;
    if (this.#tries < SNAPSHOT_TRIES_MAX) this.begin();
    else this.socket.terminate();
  }

  #fallBehind(): void {
    this.#ports.skipped();
    this.#state = { kind: 'behind', since: this.#ports.now() };
  }

  #send(bytes: Buffer): void {
    if (this.socket.readyState === this.socket.OPEN) this.socket.send(bytes, { binary: false });
  }
}
