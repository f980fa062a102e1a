// What a bench is: the figures it measures, how, and what a figure is compared with.

export interface Figure {
  readonly name: string;
  readonly unit: string;
  readonly better: 'higher' | 'lower';
  /** What a prototype of the same pipeline reached on a machine of this kind; null where none was measured. */
  readonly baseline: number | null;
  /** What is aimed at. */
  readonly goal?: string;
  /** How it was measured, in a sentence or two. */
  readonly method: string;
}

export interface BenchOptions {
  /** Each figure is the median of so many. */
  readonly repeats: number;
  /** How long each of them measures, beside warming up. */
  readonly seconds: number;
  /** Tells a person how far it is. */
  readonly say: (text: string) => void;
}

export interface Measured {
  /** By the figure's name. */
  readonly values: Readonly<Record<string, number>>;
  /** Absolute numbers and whatever else helps to judge the figures. */
  readonly details: readonly string[];
}

export interface Bench {
  readonly figures: readonly Figure[];
  run(options: BenchOptions): Promise<Measured>;
}

export function median(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  const middle = Math.floor(sorted.length / 2);
  if (sorted.length % 2 === 1) return sorted[middle] ?? Number.NaN;
  return ((sorted[middle - 1] ?? Number.NaN) + (sorted[middle] ?? Number.NaN)) / 2;
}

/** The smallest of them that at least this part of all does not exceed (nearest rank). */
export function quantile(values: readonly number[], part: number): number {
  const sorted = values.toSorted((a, b) => a - b);
  return sorted[Math.max(0, Math.ceil(part * sorted.length) - 1)] ?? Number.NaN;
}

/** All of them, so that the spread between repeats can be seen. */
export function listed(values: readonly number[], digits: number): string {
  return values.map((value) => value.toFixed(digits)).join(' ');
}
