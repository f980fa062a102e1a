// One trial: 22 devices send a known story while the service is killed at random moments; then the journal is examined.
import { execFileSync } from 'node:child_process';
import { cpSync, mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { openAccess } from '../../services/access/index.ts';
import type { JournalSettings } from '../../services/journal/index.ts';
import { holdsInWords, readJournal, rehearsedHolds, untilAnalysed, windowFaults } from './check-journal.ts';
import { random, type Random } from './random.ts';
import { REJECTED_PAYLOADS, RUBBISH_DEVICE, sendRubbish } from './rubbish.ts';
import { runCommand, startServiceProcess, type ServiceProcess } from './service-process.ts';
import { TrialClient } from './trial-client.ts';
import { declarationLines, TRIAL_PLANT, trialPhases, type Phase } from './trial-plant.ts';

export type TrialKind = 'kill' | 'power-cut' | 'disk-full' | 'network' | 'bad-input';

export interface TrialWanted {
  readonly kind: TrialKind;
  readonly seed: number;
  readonly folder: string;
  readonly build: string;
  /** The shared object made from power-cut.c; needed for power-cut and disk-full. */
  readonly shim: string;
  readonly kills: number;
}

export interface TrialResult {
  readonly kind: TrialKind;
  readonly seed: number;
  readonly acknowledged: number;
  readonly kills: number;
  readonly lost: readonly string[];
  readonly doubled: readonly string[];
  /** Why the holds are not those of an undisturbed run; empty when they are. */
  readonly holdsWrong: readonly string[];
  /** Raw windows that were acknowledged and are not there, whole and analysed once, as soon as the service ran again. */
  readonly windowsWrong: readonly string[];
  /** Where the chain over decisions and acts does not fit what stands in the journal. */
  readonly chainBroken: readonly string[];
}

export async function runTrial(wanted: TrialWanted): Promise<TrialResult> {
  return new Trial(wanted).run();
}

export function buildShim(source: string, into: string): string {
  const shim = join(into, 'power-cut.so');
  execFileSync('gcc', ['-shared', '-fPIC', '-O2', '-o', shim, source, '-ldl', '-lpthread']);
  return shim;
}

/** Acknowledgements of the last phase within which its raw windows come and are analysed, beside readings. */
const AMONG_WINDOWS = 400;

const countOf = (phases: readonly Phase[]): number =>
  phases.flat().reduce((sum, { messages }) => sum + messages.length, 0);

class Trial {
  readonly #wanted: TrialWanted;
  readonly #random: Random;
  readonly #data: string;
  readonly #image: string;
  readonly #fullFlag: string;
  readonly #phases: readonly Phase[] = trialPhases();
  #service: ServiceProcess | undefined;
  #acknowledged = 0;
  /** Counts of acknowledgements at which the next disturbance comes, soonest first. */
  readonly #moments: number[];
  #disturbing: Promise<void> | undefined;
  #kills = 0;
  #rubbish = 0;
  #secrets: ReadonlyMap<string, string> = new Map();
  readonly #clients: TrialClient[] = [];
  readonly #journal: JournalSettings;

  constructor(wanted: TrialWanted) {
    this.#wanted = wanted;
    this.#random = random(wanted.seed);
    this.#data = join(wanted.folder, 'data');
    this.#journal = { store: 'sqlite', file: join(this.#data, 'journal.sqlite') };
    this.#image = join(wanted.folder, 'image');
    this.#fullFlag = join(wanted.folder, 'disk-is-full');
    const messages = countOf(this.#phases);
    const anywhere = Array.from({ length: wanted.kills - 1 }, () => Math.floor(this.#random() * messages * 0.95));
    // Raw windows are few: one moment is among them, while they are stored and analysed.
    const amongWindows = countOf(this.#phases.slice(0, -1)) + Math.floor(this.#random() * AMONG_WINDOWS);
    this.#moments = [...anywhere, amongWindows].toSorted((a, b) => a - b);
  }

  async run(): Promise<TrialResult> {
    this.#secrets = await this.#prepare();
    this.#service = await this.#start();
    for (const phase of this.#phases) {
      const mine = phase.map(
        (stream) => new TrialClient(stream, this.#secrets.get(stream.device) ?? '', () => this.#onAcknowledged()),
      );
      this.#clients.push(...mine);
      await Promise.all(mine.map((client) => this.#untilDone(client)));
    }
    await this.#disturbing;
    await this.#end();
    await this.#analyseTheRest();
    return this.#examine(this.#clients);
  }

  async #untilDone(client: TrialClient): Promise<void> {
    for (;;) {
      await this.#disturbing;
      const port = this.#service?.port;
      if (port === undefined) throw new Error('no service to connect to');
      if ((await client.run(port)) === 'done') return;
    }
  }

  #onAcknowledged(): void {
    this.#acknowledged += 1;
    const [next] = this.#moments;
    if (next === undefined || this.#acknowledged < next || this.#disturbing !== undefined) return;
    this.#moments.shift();
    this.#kills += 1;
    this.#disturbing = this.#disturb().finally(() => (this.#disturbing = undefined));
  }

  /** A moment later than the acknowledgement that asked for it, so that it falls anywhere within a commit. */
  async #disturb(): Promise<void> {
    await new Promise((resolve) => setTimeout(resolve, this.#random() * 8));
    const service = this.#service;
    if (service === undefined) return;
    if (this.#wanted.kind === 'disk-full') {
      writeFileSync(this.#fullFlag, '');
      await new Promise((resolve) => setTimeout(resolve, 150));
      rmSync(this.#fullFlag);
      return;
    }
    if (this.#wanted.kind === 'network') {
      for (const client of this.#clients) if (this.#random() < 0.5) client.cut();
      return;
    }
    if (this.#wanted.kind === 'bad-input') {
      this.#rubbish += await sendRubbish(service.port, this.#secrets.get(RUBBISH_DEVICE) ?? '');
      return;
    }
    service.program.kill('SIGKILL');
    await service.program.ended;
    if (this.#wanted.kind === 'power-cut') this.#cutPower();
    this.#service = await this.#start();
  }

  /** What was never synced is gone: the image of what was takes the place of the data directory. */
  #cutPower(): void {
    rmSync(this.#data, { recursive: true, force: true });
    cpSync(this.#image, this.#data, { recursive: true });
  }

  #start(): Promise<ServiceProcess> {
    const { build, shim, kind } = this.#wanted;
    const env = { LD_PRELOAD: shim, FAULT_DIR: this.#data, FAULT_IMAGE: this.#image, FAULT_FULL_FLAG: this.#fullFlag };
    const shimmed = kind === 'power-cut' || kind === 'disk-full';
    return startServiceProcess({ build, data: this.#data, ...(shimmed ? { env } : {}) });
  }

  /** The last end is hard too, except where nothing was to be killed. */
  async #end(): Promise<void> {
    const program = this.#service?.program;
    if (program === undefined) return;
    if (this.#wanted.kind !== 'kill' && this.#wanted.kind !== 'power-cut') return program.stop();
    program.kill('SIGKILL');
    await program.ended;
    if (this.#wanted.kind === 'power-cut') this.#cutPower();
  }

  /** What the end left behind is analysed at the next start. */
  async #analyseTheRest(): Promise<void> {
    const { program } = await this.#start();
    await untilAnalysed(this.#journal);
    await program.stop();
  }

  async #prepare(): Promise<ReadonlyMap<string, string>> {
    mkdirSync(this.#data, { recursive: true });
    mkdirSync(this.#image, { recursive: true });
    const declarations = join(this.#wanted.folder, 'declared.jsonl');
    writeFileSync(declarations, declarationLines());
    await runCommand(this.#wanted.build, ['import', declarations, '--plant', TRIAL_PLANT, '--data', this.#data]);
    const access = await openAccess({ dataDir: this.#data, clock: { now: Date.now } });
    const secrets = new Map<string, string>();
    const mad = { device: RUBBISH_DEVICE, kind: 'bench', serves: [] } as const;
    for (const { device, kind, serves } of [...this.#phases.flat(), mad]) {
      const enrolled = await access.enrol('trial', { device, kind, serves });
      if (enrolled.kind === 'refused') throw new Error(enrolled.why);
      secrets.set(device, enrolled.secret);
    }
    await access.close();
    // What was there before the power could be cut was synced long ago.
    cpSync(this.#data, this.#image, { recursive: true });
    return secrets;
  }

  async #examine(clients: readonly TrialClient[]): Promise<TrialResult> {
    const found = await readJournal(this.#journal);
    const { counts, lines, holds, rejected } = found;
    const acknowledged = clients.flatMap((client) => [...client.acknowledged]);
    const holdsWrong: string[] = [];
    const again = await rehearsedHolds(lines);
    if (JSON.stringify(again) !== JSON.stringify(holds))
      holdsWrong.push('a replay of the same journal gives other holds');
    const undisturbed = holdsInWords(await rehearsedHolds(undisturbedLines(this.#phases)));
    const words = holdsInWords(holds);
    if (JSON.stringify(undisturbed) !== JSON.stringify(words)) {
      holdsWrong.push(`expected ${undisturbed.join(' | ')}; got ${words.join(' | ')}`);
    }
    const wanted = this.#wanted.kind === 'bad-input' ? this.#kills * REJECTED_PAYLOADS.length : 0;
    if (rejected !== wanted || this.#rubbish !== wanted) {
      holdsWrong.push(`${wanted} bad messages sent, ${this.#rubbish} acknowledged, ${rejected} kept as rejected`);
    }
    if (undisturbed.length === 0) holdsWrong.push('the undisturbed run gives no hold: the trial would prove nothing');
    return {
      kind: this.#wanted.kind,
      seed: this.#wanted.seed,
      acknowledged: acknowledged.length,
      kills: this.#kills,
      lost: acknowledged.filter((key) => !counts.has(key)),
      doubled: [...counts].filter(([, count]) => count > 1).map(([key]) => key),
      holdsWrong,
      chainBroken: found.chainBroken,
      windowsWrong: windowFaults(
        found,
        clients.flatMap(({ stream, acknowledged: mine }) => stream.messages.filter(({ key }) => mine.has(key))),
      ),
    };
  }
}

function undisturbedLines(phases: readonly Phase[]): string[] {
  const at = new Date().toISOString();
  const messages = phases.flat().flatMap((stream) => stream.messages);
  const lines = messages.map(({ topic, payload }) =>
    JSON.stringify({ topic, at, envelope: JSON.parse(payload) as unknown }),
  );
  return [...declarationLines().trim().split('\n'), ...lines];
}
