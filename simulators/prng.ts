// Repeatable randomness: the same seed and label give the same numbers in any order of asking.

/** Small fast counter generator (sfc32, Chris Doty-Humphrey, public domain): 128 bits of state, one draw in nanoseconds. */
export class Prng {
  #a: number;
  #b: number;
  #c: number;
  #counter = 1;
  #spare: number | undefined;
  readonly #label: string;

  constructor(label: string) {
    this.#label = label;
    const [a, b, c] = hash(label);
    this.#a = a;
    this.#b = b;
    this.#c = c;
    for (let draw = 0; draw < 12; draw += 1) this.#bits();
  }

  /** A stream of its own, that no number of draws here can shift. */
  split(...parts: readonly (string | number)[]): Prng {
    return prngOf(this.#label, ...parts);
  }

  /** 0 <= x < 1. */
  next(): number {
    return this.#bits() / 4_294_967_296;
  }

  between(low: number, high: number): number {
    return low + (high - low) * this.next();
  }

  /** A whole number, both ends included. */
  whole(low: number, high: number): number {
    return low + Math.floor(this.next() * (high - low + 1));
  }

  chance(probability: number): boolean {
    return this.next() < probability;
  }

  pick<T>(list: readonly T[]): T {
    const picked = list[this.whole(0, list.length - 1)];
    if (picked === undefined) throw new RangeError('nothing to pick from');
    return picked;
  }

  /** Mean 0, standard deviation 1 (Box and Muller, polar form after Marsaglia). */
  gaussian(): number {
    if (this.#spare !== undefined) {
      const spare = this.#spare;
      this.#spare = undefined;
      return spare;
    }
    for (;;) {
      const x = 2 * this.next() - 1;
      const y = 2 * this.next() - 1;
      const s = x * x + y * y;
      if (s >= 1 || s === 0) continue;
      const scale = Math.sqrt((-2 * Math.log(s)) / s);
      this.#spare = y * scale;
      return x * scale;
    }
  }

  shuffled<T>(list: readonly T[]): T[] {
    return list
      .map((item) => ({ item, key: this.next() }))
      .toSorted((p, q) => p.key - q.key)
      .map(({ item }) => item);
  }

  #bits(): number {
    const sum = (this.#a + this.#b + this.#counter) | 0;
    this.#counter = (this.#counter + 1) | 0;
    this.#a = this.#b ^ (this.#b >>> 9);
    this.#b = (this.#c + (this.#c << 3)) | 0;
    this.#c = ((this.#c << 21) | (this.#c >>> 11)) + sum;
    this.#c |= 0;
    return sum >>> 0;
  }
}

export function prngOf(...parts: readonly (string | number)[]): Prng {
  return new Prng(parts.join('/'));
}

/** Three words from a text (FNV-1a with different starts, then mixed): enough to keep streams apart. */
function hash(text: string): [number, number, number] {
  return [fnv(text, 0x811c9dc5), fnv(text, 0x9747b28c), fnv(text, 0x3c6ef372)];
}

function fnv(text: string, start: number): number {
  let word = start;
  for (let i = 0; i < text.length; i += 1) word = Math.imul(word ^ text.charCodeAt(i), 0x01000193);
  word = Math.imul(word ^ (word >>> 16), 0x85ebca6b);
  word = Math.imul(word ^ (word >>> 13), 0xc2b2ae35);
  return word ^ (word >>> 16);
}
