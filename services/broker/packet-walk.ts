// Finds where packets begin in a stream of bytes, so that size and number are limited before anything is buffered.

/** What may happen with the packet that begins here. `wait` is answered only where it was offered. */
export type Verdict = 'pass' | 'wait' | 'close';

export interface PacketGate {
  /** True while nothing that begins a packet may pass. */
  readonly shut: boolean;
  /** @param mayWait false when its first bytes have passed already, because they came with the end of a chunk. */
  begin(firstByte: number, length: number, mayWait: boolean): Verdict;
  malformed(): void;
}

/** MQTT 3.1.1, 2.2.3: the remaining length has at most four bytes. */
const LENGTH_BYTES_MAX = 4;
export const CLOSE = -1;

/** Follows one connection's bytes from packet to packet; holds no byte of them. */
export class PacketWalk {
  #left = 0;
  #headerBytes = 0;
  #firstByte = 0;
  #length = 0;
  #factor = 1;

  /** True between the first byte of a packet and its last. */
  get unfinished(): boolean {
    return this.#left > 0 || this.#headerBytes > 0;
  }

  /** How many bytes of the chunk may pass: all of them, those before a packet that has to wait, or CLOSE. */
  through(chunk: Uint8Array, gate: PacketGate): number {
    let at = 0;
    while (at < chunk.length) {
      if (this.#left > 0) {
        const taken = Math.min(this.#left, chunk.length - at);
        this.#left -= taken;
        at += taken;
        continue;
      }
      const begin = at;
      const mayWait = this.#headerBytes === 0;
      if (mayWait && gate.shut) return begin;
      at = this.#header(chunk, at);
      if (at === CLOSE) {
        gate.malformed();
        return CLOSE;
      }
      if (this.#headerBytes > 0) return at;
      const verdict = gate.begin(this.#firstByte, this.#length, mayWait);
      if (verdict === 'wait') return begin;
      if (verdict === 'close') return CLOSE;
      this.#left = this.#length;
    }
    return at;
  }

  /** Reads the fixed header as far as the chunk goes; `#headerBytes` is 0 again when it is complete. */
  #header(chunk: Uint8Array, from: number): number {
    let at = from;
    if (this.#headerBytes === 0) {
      this.#firstByte = chunk[at++] ?? 0;
      this.#headerBytes = 1;
      this.#length = 0;
      this.#factor = 1;
    }
    while (at < chunk.length) {
      const byte = chunk[at++] ?? 0;
      this.#length += (byte & 0x7f) * this.#factor;
      this.#factor *= 0x80;
      if (byte < 0x80) {
        this.#headerBytes = 0;
        return at;
      }
      if (++this.#headerBytes > LENGTH_BYTES_MAX) return CLOSE;
    }
    return at;
  }
}
