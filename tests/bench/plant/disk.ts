// How long this disk takes to make a page durable: the part of a commit that no program can make shorter.
import { closeSync, fsyncSync, openSync, writeSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { LatencyHistogram } from '../latency-histogram.ts';

const PAGE_BYTES = 4096;
const PAGES = 100;
const TRIES = 300;
const BETWEEN_MS = 2;

export async function diskLatency(folder: string): Promise<LatencyHistogram> {
  const histogram = new LatencyHistogram();
  const file = openSync(join(folder, 'disk-probe'), 'w');
  const page = Buffer.alloc(PAGE_BYTES, 1);
  for (let tried = 0; tried < TRIES; tried += 1) {
    writeSync(file, page, 0, PAGE_BYTES, (tried % PAGES) * PAGE_BYTES);
    const begun = performance.now();
    fsyncSync(file);
    histogram.add(performance.now() - begun);
    await pause(BETWEEN_MS);
  }
  closeSync(file);
  return histogram;
}
