// Counts latencies in buckets of two per cent width: small, fast, and to be added up over processes.

const STEP = Math.log(1.02);
const SMALLEST_MS = 0.001;
/** From 1 µs to about 100 s. */
const BUCKETS = Math.ceil(Math.log(100_000 / SMALLEST_MS) / STEP);

export interface LatencySummary {
  readonly p50: number;
  readonly p90: number;
  readonly p99: number;
  readonly p999: number;
  readonly max: number;
  readonly mean: number;
}

export class LatencyHistogram {
  readonly counts = new Float64Array(BUCKETS + 1);
  count = 0;
  sumMs = 0;
  maxMs = 0;

  add(ms: number): void {
    const bucket = ms <= SMALLEST_MS ? 0 : Math.min(BUCKETS, Math.ceil(Math.log(ms / SMALLEST_MS) / STEP));
    this.counts[bucket] = (this.counts[bucket] ?? 0) + 1;
    this.count += 1;
    this.sumMs += ms;
    if (ms > this.maxMs) this.maxMs = ms;
  }

  reset(): void {
    this.counts.fill(0);
    this.count = 0;
    this.sumMs = 0;
    this.maxMs = 0;
  }

  /** The upper edge of the bucket in which this part of all latencies ends, in ms. */
  quantile(part: number): number {
    let seen = 0;
    for (const [bucket, count] of this.counts.entries()) {
      seen += count;
      if (count > 0 && seen >= part * this.count) return Math.min(this.maxMs, SMALLEST_MS * Math.exp(bucket * STEP));
    }
    return this.maxMs;
  }

  summary(): LatencySummary {
    return {
      p50: this.quantile(0.5),
      p90: this.quantile(0.9),
      p99: this.quantile(0.99),
      p999: this.quantile(0.999),
      max: this.maxMs,
      mean: this.count === 0 ? 0 : this.sumMs / this.count,
    };
  }
}
