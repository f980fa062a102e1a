// Growing bytes to write to and a cursor to read from: the alphabet of the journal's blocks. Little-endian.

const FIRST_SIZE = 4096;
const SMALL_INT = 0x7fff_ffff;

export class ByteWriter {
  #bytes: Buffer<ArrayBuffer> = Buffer.alloc(FIRST_SIZE);
  #length = 0;

  get length(): number {
    return this.#length;
  }

  /** Forgets what was written; the room is used again. */
  clear(): void {
    this.#length = 0;
  }

  byte(value: number): void {
    this.#room(1);
    this.#bytes[this.#length++] = value;
  }

  /** An integer from 0 to 2^53 - 1, seven bits a byte. */
  count(value: number): void {
    this.#room(8);
    const bytes = this.#bytes;
    let at = this.#length;
    let rest = value;
    while (rest > SMALL_INT) {
      bytes[at++] = (rest % 128) | 0x80;
      rest = Math.floor(rest / 128);
    }
    while (rest > 0x7f) {
      bytes[at++] = (rest & 0x7f) | 0x80;
      rest >>>= 7;
    }
    bytes[at++] = rest;
    this.#length = at;
  }

  double(value: number): void {
    this.#room(8);
    this.#length = this.#bytes.writeDoubleLE(value, this.#length);
  }

  bytes(values: Uint8Array): void {
    this.#room(values.length);
    this.#bytes.set(values, this.#length);
    this.#length += values.length;
  }

  /** UTF-8 with its length in front; lone surrogates do not survive, so callers hand in JSON, which escapes them. */
  text(text: string): void {
    const most = text.length * 3;
    this.#room(most + 8);
    // Written behind the widest length first, then moved up to the real one: the text is walked only once.
    const start = this.#length + 8;
    const size = this.#bytes.write(text, start, most, 'utf8');
    this.count(size);
    this.#bytes.copyWithin(this.#length, start, start + size);
    this.#length += size;
  }

  /** What was written, in place: good until the next change. */
  written(): Uint8Array {
    return this.#bytes.subarray(0, this.#length);
  }

  /** A copy of what was written. */
  taken(): Buffer {
    return Buffer.from(this.#bytes.subarray(0, this.#length));
  }

  #room(more: number): void {
    const wanted = this.#length + more;
    if (wanted <= this.#bytes.length) return;
    const larger = Buffer.alloc(Math.max(wanted, this.#bytes.length * 2));
    larger.set(this.#bytes.subarray(0, this.#length));
    this.#bytes = larger;
  }
}

export class ByteReader {
  readonly #bytes: Buffer;
  #at = 0;

  constructor(bytes: Uint8Array) {
    this.#bytes = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.length);
  }

  byte(): number {
    const value = this.#bytes[this.#at++];
    if (value === undefined) throw new Error('a block of the journal ends too early');
    return value;
  }

  count(): number {
    const first = this.byte();
    if (first < 0x80) return first;
    let value = first & 0x7f;
    let scale = 128;
    for (;;) {
      const next = this.byte();
      value += (next & 0x7f) * scale;
      if (next < 0x80) return value;
      scale *= 128;
    }
  }

  /** Goes past so many of them. */
  skipCounts(count: number): void {
    const bytes = this.#bytes;
    let at = this.#at;
    for (let left = count; left > 0; at += 1) {
      if (at >= bytes.length) throw new Error('a block of the journal ends too early');
      if ((bytes[at] ?? 0) < 0x80) left -= 1;
    }
    this.#at = at;
  }

  double(): number {
    this.#at += 8;
    return this.#bytes.readDoubleLE(this.#at - 8);
  }

  /** A view, good as long as the block is. */
  bytes(length: number): Buffer {
    const from = this.#at;
    this.#at += length;
    if (this.#at > this.#bytes.length) throw new Error('a block of the journal ends too early');
    return this.#bytes.subarray(from, this.#at);
  }

  /** A copy, so that it may be seen as numbers of any width whatever its place in the block. */
  aligned(length: number): ArrayBuffer {
    const view = this.bytes(length);
    const copy = new ArrayBuffer(length);
    new Uint8Array(copy).set(view);
    return copy;
  }

  text(): string {
    return this.bytes(this.count()).toString('utf8');
  }

  atEnd(): boolean {
    return this.#at === this.#bytes.length;
  }
}
