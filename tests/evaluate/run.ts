// npm run evaluate: labelled trials through intake and rules; what was planted against what was told, and the figures.
//   npm run evaluate -- [KIND…] [--seeds 4] [--tuning] [--json]
// KIND is a kind of trial or the beginning of one. With --json one line a figure: {name, value, unit, better, baseline}.
import { availableParallelism } from 'node:os';
import { parseArgs } from 'node:util';
import { isMainThread, parentPort, Worker } from 'node:worker_threads';
import { fileURLToPath } from 'node:url';
import type { TrialVerdict } from './judge.ts';
import { figuresOf } from './figures.ts';
import { tablesOf } from './tables.ts';
import { FIRST_REPORTING_SEED, FIRST_TUNING_SEED, jobsOf, kindsNamed, tryOut, type Job } from './trials.ts';

/** One or two minutes on two cores. */
const SEEDS = '4';
const WORKERS_MAX = 8;
const SAYS_EVERY_MS = 15_000;

/** Each worker takes the next job when it is done with one; the verdicts come in the order of the jobs. */
async function inWorkers(jobs: readonly Job[]): Promise<TrialVerdict[]> {
  const verdicts: TrialVerdict[] = [];
  let next = 0;
  let done = 0;
  const beats = setInterval(() => process.stderr.write(`  ${done} of ${jobs.length} trials\n`), SAYS_EVERY_MS);
  const work = async (): Promise<void> => {
    const worker = new Worker(fileURLToPath(import.meta.url));
    for (let nth = next++; nth < jobs.length; nth = next++) {
      verdicts[nth] = await new Promise<TrialVerdict>((resolve, reject) => {
        worker.once('message', resolve);
        worker.once('error', reject);
        worker.postMessage(jobs[nth]);
      });
      worker.removeAllListeners('error');
      done += 1;
    }
    await worker.terminate();
  };
  try {
    await Promise.all(Array.from({ length: Math.min(WORKERS_MAX, availableParallelism(), jobs.length) }, work));
  } finally {
    clearInterval(beats);
  }
  return verdicts;
}

async function main(): Promise<number> {
  const { values, positionals } = parseArgs({
    allowPositionals: true,
    options: {
      json: { type: 'boolean', default: false },
      tuning: { type: 'boolean', default: false },
      seeds: { type: 'string', default: SEEDS },
    },
  });
  const kinds = kindsNamed(positionals);
  const seeds = Number(values.seeds);
  if (kinds.length === 0 || !Number.isInteger(seeds) || seeds < 1) {
    process.stderr.write(`trials: ${kindsNamed([]).join(' ')}\n--seeds takes a whole number from 1 on\n`);
    return 64;
  }
  const first = values.tuning ? FIRST_TUNING_SEED : FIRST_REPORTING_SEED;
  process.stderr.write(`${kinds.length} kinds of trial, ${seeds} seeds each from ${first} on\n`);
  const verdicts = await inWorkers(jobsOf(kinds, first, seeds));
  const figures = figuresOf(verdicts);
  if (values.json) {
    for (const figure of figures) console.log(JSON.stringify(figure));
    return 0;
  }
  console.log(`${tablesOf(verdicts)}\n`);
  for (const { name, value, unit } of figures)
    console.log(`${name.padEnd(60)} ${value}${unit === '1' ? '' : ` ${unit}`}`);
  return 0;
}

if (isMainThread || parentPort === null) process.exitCode = await main();
else {
  const port = parentPort;
  port.on('message', (job: Job) => {
    void tryOut(job).then((verdict) => port.postMessage(verdict));
  });
}
