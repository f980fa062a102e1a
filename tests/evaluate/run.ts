// npm run evaluate: labelled faults through the rules; what was planted against what was told, and the figures.
//   npm run evaluate -- [long] [ahead] [KIND…] [--seeds 4] [--tuning] [--json] [--keep FILE]
// `long` are scenarios of weeks and months straight through the rules, `ahead` levels on their way to a limit; a KIND, or the
// beginning of one, is a short trial through intake as well. Without any all are played. With --json one line a figure: {name, value, unit, better, baseline}.
import { availableParallelism } from 'node:os';
import { isMainThread, parentPort, Worker } from 'node:worker_threads';
import { fileURLToPath } from 'node:url';
import type { TrialVerdict } from './judge.ts';
import { aheadFiguresOf, aheadTableOf, triedCourses, type CourseVerdict } from './ahead/index.ts';
import { figuresOf } from './figures.ts';
import { KEPT_NOWHERE, keptIn, NotKept, type Kept } from './kept.ts';
import { judgeSeed, longFiguresOf, longTablesOf, type ScenarioVerdict } from './long/index.ts';
import { tablesOf } from './tables.ts';
import { jobsOf, tryOut, type TrialJob } from './trials.ts';
import { AHEAD, LONG, wished } from './wish.ts';

const WORKERS_MAX = 8;
const SAYS_EVERY_MS = 15_000;

type Job =
  | TrialJob
  | { readonly kind: typeof LONG; readonly seed: number }
  | { readonly kind: typeof AHEAD; readonly seed: number };
type Verdict = TrialVerdict | ScenarioVerdict | readonly CourseVerdict[];
const isOfCourses = (verdict: Verdict): verdict is readonly CourseVerdict[] => Array.isArray(verdict);
const isOfScenario = (verdict: Verdict): verdict is ScenarioVerdict => !isOfCourses(verdict) && !('kind' in verdict);

/** Each worker takes the next job when it is done with one; the verdicts come in the order of the jobs. */
async function inWorkers(jobs: readonly Job[], kept: Kept): Promise<Verdict[]> {
  const verdicts: Verdict[] = [];
  let next = 0;
  let done = 0;
  const beats = setInterval(() => process.stderr.write(`  ${done} of ${jobs.length}\n`), SAYS_EVERY_MS);
  const work = async (): Promise<void> => {
    const worker = new Worker(fileURLToPath(import.meta.url));
    for (let nth = next++; nth < jobs.length; nth = next++) {
      const known = keptOf(jobs[nth], kept);
      verdicts[nth] = known ?? (await asked(worker, jobs[nth]));
      done += 1;
      const verdict = verdicts[nth];
      if (known === undefined && verdict !== undefined && isOfScenario(verdict)) kept.take(verdict);
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

const keptOf = (job: Job | undefined, kept: Kept): Verdict | undefined =>
  job?.kind === LONG ? kept.of(job.seed) : undefined;

async function asked(worker: Worker, job: Job | undefined): Promise<Verdict> {
  const verdict = await new Promise<Verdict>((resolve, reject) => {
    worker.once('message', resolve);
    worker.once('error', reject);
    worker.postMessage(job);
  });
  worker.removeAllListeners('error');
  return verdict;
}

async function main(): Promise<number> {
  const wish = wished();
  const { kinds, isLong, isAhead, first, seeds, keep } = wish;
  const kept = keep === undefined ? KEPT_NOWHERE : keptIn(keep);
  const what = [
    ...(isLong ? ['long scenarios'] : []),
    ...(isAhead ? ['courses to a limit'] : []),
    ...(kinds.length > 0 ? [`${kinds.length} ${kinds.length === 1 ? 'kind' : 'kinds'} of trial`] : []),
  ];
  process.stderr.write(`${what.join(' and ')}, ${seeds} ${seeds === 1 ? 'seed' : 'seeds'} each from ${first} on\n`);
  const longJobs = isLong ? Array.from({ length: seeds }, (_, nth): Job => ({ kind: LONG, seed: first + nth })) : [];
  const aheadJobs = isAhead ? Array.from({ length: seeds }, (_, nth): Job => ({ kind: AHEAD, seed: first + nth })) : [];
  const all = await inWorkers([...longJobs, ...aheadJobs, ...jobsOf(kinds, first, seeds)], kept);
  const courses = all.filter(isOfCourses).flat();
  const long = all.filter(isOfScenario);
  const trials = all.filter((verdict): verdict is TrialVerdict => !isOfCourses(verdict) && 'kind' in verdict);
  if (wish.asJson) sayFigures(long, trials);
  else sayTables(long, trials);
  if (courses.length > 0) sayCourses(courses, wish.asJson);
  return 0;
}

function sayFigures(long: readonly ScenarioVerdict[], trials: readonly TrialVerdict[]): void {
  if (long.length > 0) for (const figure of longFiguresOf(long)) console.log(JSON.stringify(figure));
  if (trials.length > 0) {
    for (const figure of figuresOf(trials))
      console.log(JSON.stringify({ ...figure, name: trialName(figure.name, long) }));
  }
}

function sayCourses(courses: readonly CourseVerdict[], asJson: boolean): void {
  const figures = aheadFiguresOf(courses);
  if (asJson) for (const figure of figures) console.log(JSON.stringify(figure));
  else {
    console.log(`dates between P10 and P90, on invented courses to a limit\n${aheadTableOf(courses)}\n`);
    for (const { name, value } of figures) console.log(`${name.padEnd(60)} ${value}`);
  }
}

/** Where both were played each figure has one name: the trials' own say so. */
function trialName(name: string, long: readonly ScenarioVerdict[]): string {
  return long.length === 0 ? name : name.replace('decide.', 'decide.trials.');
}

function sayTables(long: readonly ScenarioVerdict[], trials: readonly TrialVerdict[]): void {
  if (long.length > 0) console.log(`${longTablesOf(long)}\n`);
  if (trials.length === 0) return;
  console.log(`${tablesOf(trials)}\n`);
  for (const { name, value, unit } of figuresOf(trials))
    console.log(`${trialName(name, long).padEnd(60)} ${value}${unit === '1' ? '' : ` ${unit}`}`);
}

/** What is wrong with what was asked is said in a line. */
async function run(): Promise<number> {
  try {
    return await main();
  } catch (failure) {
    if (!(failure instanceof NotKept)) throw failure;
    process.stderr.write(`${failure.message}\n`);
    return 65;
  }
}

if (isMainThread || parentPort === null) process.exitCode = await run();
else {
  const port = parentPort;
  port.on('message', (job: Job) => {
    if (job.kind === LONG) port.postMessage(judgeSeed(job.seed));
    else if (job.kind === AHEAD) port.postMessage(triedCourses(job.seed));
    else void tryOut(job).then((verdict) => port.postMessage(verdict));
  });
}
