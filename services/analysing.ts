// Raw windows between plant and analysis: what was stored is analysed once, what it gave is put on record and told.
import type { Logger } from 'pino';
import type { Position } from '../shared/entries.ts';
import type { WaveDone, WaveJob } from '../shared/wave-job.ts';
import { openAnalysis, type Analysis, type AnalysisCounts } from './analysis/index.ts';
import type { PlantClient, Told } from './plant/index.ts';

export interface AnalysingParts {
  readonly plant: Pick<PlantClient, 'call'>;
  readonly log: Pick<Logger, 'warn'>;
  readonly tell: (told: Told) => void;
}

/** Windows of before the start that are offered at once; the next come when these are done, so that none is skipped for another. */
const BACKLOG_PAGE = 4;

export class Analysing {
  readonly #parts: AnalysingParts;
  readonly #analysis: Analysis;
  /** Windows of the backlog's page that are not done yet. */
  readonly #page = new Set<Position>();
  #backlog: { after: Position; readonly until: Position } | undefined;
  #closed = false;

  constructor(parts: AnalysingParts) {
    this.#parts = parts;
    this.#analysis = openAnalysis({
      done: (done) => this.#done(done),
      trouble: (why) => parts.log.warn({ why }, 'the analysis of raw windows'),
    });
  }

  get counts(): AnalysisCounts {
    return this.#analysis.counts;
  }

  take(waves: readonly WaveJob[]): void {
    for (const wave of waves) this.#analysis.offer(wave);
  }

  /** What a stop left behind is analysed now; what comes from here on is offered by itself. */
  async takeBacklog(): Promise<void> {
    const { journal } = await this.#parts.plant.call('intake');
    this.#backlog = { after: 0, until: journal.position };
    await this.#nextPage();
  }

  async close(): Promise<void> {
    this.#closed = true;
    await this.#analysis.close();
  }

  async #nextPage(): Promise<void> {
    if (this.#backlog === undefined || this.#closed) return;
    const { after, until } = this.#backlog;
    const found = await this.#parts.plant.call('wavesWaiting', { after, limit: BACKLOG_PAGE });
    const page = found.filter(({ waveId }) => waveId <= until);
    const last = page.at(-1);
    if (last === undefined) {
      this.#backlog = undefined;
      return;
    }
    this.#backlog.after = last.waveId;
    for (const { waveId } of page) this.#page.add(waveId);
    this.take(page);
  }

  async #done(done: readonly WaveDone[]): Promise<void> {
    this.#parts.tell(await this.#parts.plant.call('analysed', done));
    const before = this.#page.size;
    for (const { waveId } of done) this.#page.delete(waveId);
    if (before > 0 && this.#page.size === 0) await this.#nextPage();
  }
}
