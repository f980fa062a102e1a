// The tables of what a month is counted from: holds with their steps, and what else happened. Written as the journal is read.
import type Database from 'better-sqlite3';
import { isOpen } from '../../shared/holds.ts';
import { MILLISECONDS_A_DAY, type Instant } from '../../shared/time.ts';
import type { Stretch } from '../journal/index.ts';
import { happeningsOf, type Happening, type HappeningOf, type HeldFor, type StepKept } from './happenings.ts';
import type { HoldKept, MonthRows, Try } from './month-count.ts';

export const MONTHS_SCHEMA = `
  CREATE TABLE month_holds (id TEXT PRIMARY KEY, raised INTEGER NOT NULL, ended INTEGER, body TEXT NOT NULL) WITHOUT ROWID;
  CREATE INDEX month_holds_ended ON month_holds (ended);
  CREATE TABLE happened (
    kind TEXT NOT NULL, subject TEXT NOT NULL, position INTEGER NOT NULL, at INTEGER NOT NULL, body TEXT NOT NULL,
    PRIMARY KEY (kind, subject, position)
  ) WITHOUT ROWID;
  CREATE INDEX happened_at ON happened (kind, at);
  CREATE TABLE begun (at INTEGER NOT NULL);`;

/** What is older is told by the journal alone. */
export const MONTHS_KEPT_DAYS = 800;
/** A month with more of one kind is counted up to here, which no plant of thousands of spindles comes near. */
const ROWS_MAX = 200_000;

type Stored = { readonly subject: string; readonly position: number; readonly at: number; readonly body: string };

export class MonthTables {
  readonly #database: Database.Database;
  readonly #putHold: Database.Statement;
  readonly #hold: Database.Statement<[string], string>;
  readonly #put: Database.Statement;
  readonly #last: Database.Statement<[string, string, number], Stored>;
  readonly #within: Database.Statement<[string, Instant, Instant, number], Stored>;
  readonly #before: Database.Statement<[string, string, Instant], Stored>;
  #trimmedAt = 0;

  constructor(database: Database.Database) {
    this.#database = database;
    this.#putHold = database.prepare('INSERT OR REPLACE INTO month_holds VALUES (?, ?, ?, ?)');
    this.#hold = database.prepare<[string], string>('SELECT body FROM month_holds WHERE id = ?').pluck();
    this.#put = database.prepare('INSERT OR REPLACE INTO happened VALUES (?, ?, ?, ?, ?)');
    const rows = 'SELECT subject, position, at, body FROM happened WHERE kind = ?';
    this.#last = database.prepare(`${rows} AND subject = ? AND position < ? ORDER BY position DESC LIMIT 1`);
    this.#within = database.prepare(`${rows} AND at >= ? AND at < ? ORDER BY at, position LIMIT ?`);
    // The last of each subject before an instant; positions go with time.
    this.#before = database.prepare(
      `SELECT subject, max(position) AS position, at, body FROM happened WHERE kind = ? AND subject > ? AND at < ? GROUP BY subject`,
    );
  }

  /** In one commit. The same stretch twice leaves what it left before. */
  take(stretch: Stretch): void {
    const happenings = happeningsOf(stretch, (holdId) => this.#heldFor(holdId));
    const [first] = stretch.entries;
    if (happenings.length === 0 && first?.position !== 1) return;
    this.#database.transaction(() => {
      if (first?.position === 1) this.#begin(first.at);
      for (const happening of happenings) this.#takeOne(happening);
      const last = happenings.at(-1);
      if (last !== undefined) this.#trim(last.at);
    })();
  }

  /** What it takes to count the time from one instant to another. */
  rows(from: Instant, to: Instant): MonthRows {
    const knownFrom = this.#database.prepare<[], number>('SELECT min(at) FROM begun').pluck().get();
    return {
      knownFrom: knownFrom ?? undefined,
      holds: this.#holds(from, to),
      states: [...this.#lastBefore('state', from), ...this.#of('state', from, to)],
      ahead: [...this.#lastBefore('ahead', from), ...this.#of('ahead', from, to)],
      checks: this.#of('check', from, to),
      tries: this.#of('try', from, to),
      limits: this.#of('limits', from, to),
      rules: this.#of('rules', from, to),
    };
  }

  #begin(at: Instant): void {
    this.#database.prepare('INSERT INTO begun SELECT ? WHERE NOT EXISTS (SELECT 1 FROM begun)').run(at);
  }

  #heldFor(holdId: string): HeldFor | undefined {
    const body = this.#hold.get(holdId);
    return body === undefined ? undefined : (JSON.parse(body) as HoldKept);
  }

  #takeOne(happening: Happening): void {
    switch (happening.kind) {
      case 'hold':
        this.#writeHold({ ...happening.hold, steps: happening.steps, ...namedOf(happening.named) });
        return;
      case 'step':
        this.#change(happening.holdId, (hold) => withStep(hold, happening.step));
        return;
      case 'named':
        this.#change(happening.holdId, ({ named: _before, ...hold }) => ({ ...hold, ...namedOf(happening.named) }));
        return;
      case 'correction':
        this.#takeCorrection(happening);
        return;
      case 'result':
        this.#takeResult(happening);
        return;
      case 'limits':
        this.#takeLimits(happening);
        return;
      case 'state':
        this.#write(happening, happening.spindleId);
        return;
      case 'check':
        // A test is sent as far as it has come: its last message stands for it.
        this.#write(happening, `${happening.bench}\n${happening.testId ?? happening.position}`);
        return;
      case 'rules':
        this.#write(happening, '-');
        return;
      case 'ahead':
        this.#write(happening, `${happening.spindleId}\n${happening.ahead.speedBin}\n${happening.ahead.quantity}`);
    }
  }

  /** Several messages of one try are one: nothing was measured between them. */
  #takeCorrection({ position, at, assemblyId, buildId }: HappeningOf<'correction'>): void {
    const subject = `${assemblyId}\n${buildId}`;
    const before = this.#lastTry(subject, position);
    if (before !== undefined && (before.measured === undefined || before.measured > position)) return;
    this.#putTry(subject, { position, at, assemblyId, first: before?.verdict !== 'exceeds' });
  }

  #takeResult({ position, assemblyId, buildId, verdict }: HappeningOf<'result'>): void {
    const subject = `${assemblyId}\n${buildId}`;
    const last = this.#lastTry(subject, position);
    if (last === undefined || (last.measured !== undefined && last.measured !== position)) return;
    this.#putTry(subject, { ...last, measured: position, ...(verdict === undefined ? {} : { verdict }) });
  }

  #lastTry(subject: string, position: number): Try | undefined {
    const stored = this.#last.get('try', subject, position);
    return stored === undefined ? undefined : (JSON.parse(stored.body) as Try);
  }

  #putTry(subject: string, tried: Try): void {
    this.#put.run('try', subject, tried.position, tried.at, JSON.stringify(tried));
  }

  /** A declaration that changes no limit is none of limits. */
  #takeLimits(happening: HappeningOf<'limits'>): void {
    const { spindleId, position, limits, told } = happening;
    const stored = this.#last.get('limits', spindleId, position);
    const before = stored === undefined ? undefined : (JSON.parse(stored.body) as HappeningOf<'limits'>);
    if (before?.told === told || (before === undefined && limits === 0 && !told.includes('{'))) return;
    this.#write({ ...happening, before: before?.limits ?? 0 }, spindleId);
  }

  #write(
    happening: Exclude<Happening, { kind: 'hold' | 'step' | 'named' }> & { before?: number },
    subject: string,
  ): void {
    this.#put.run(happening.kind, subject, happening.position, happening.at, JSON.stringify(happening));
  }

  #change(holdId: string, by: (hold: HoldKept) => HoldKept): void {
    const body = this.#hold.get(holdId);
    if (body !== undefined) this.#writeHold(by(JSON.parse(body) as HoldKept));
  }

  #writeHold(hold: HoldKept): void {
    const last = hold.steps.at(-1);
    const ended = last === undefined || isOpen(last) ? null : last.at;
    this.#putHold.run(hold.holdId, hold.raisedAt, ended, JSON.stringify(hold));
  }

  #holds(from: Instant, to: Instant): readonly HoldKept[] {
    return this.#database
      .prepare<[Instant, Instant, number], string>(
        'SELECT body FROM month_holds WHERE raised < ? AND (ended IS NULL OR ended >= ?) ORDER BY raised, id LIMIT ?',
      )
      .pluck()
      .all(to, from, ROWS_MAX)
      .map((body) => JSON.parse(body) as HoldKept);
  }

  #of<K extends Happening['kind'] | 'try'>(
    kind: K,
    from: Instant,
    to: Instant,
  ): readonly HappeningOf<Exclude<K, 'try'>>[] {
    return this.#within
      .all(kind, from, to, ROWS_MAX)
      .map(({ body }) => JSON.parse(body) as HappeningOf<Exclude<K, 'try'>>);
  }

  #lastBefore<K extends Happening['kind']>(kind: K, at: Instant): readonly HappeningOf<K>[] {
    return this.#before.all(kind, '', at).map(({ body }) => JSON.parse(body) as HappeningOf<K>);
  }

  /** Once a day of the journal. What a month begins with is found again in what came last: a state that lasts for years is lost. */
  #trim(now: Instant): void {
    if (now - this.#trimmedAt < MILLISECONDS_A_DAY) return;
    this.#trimmedAt = now;
    const before = now - MONTHS_KEPT_DAYS * MILLISECONDS_A_DAY;
    this.#database.prepare('DELETE FROM happened WHERE at < ?').run(before);
    this.#database.prepare('DELETE FROM month_holds WHERE ended < ?').run(before);
    this.#database.prepare('UPDATE begun SET at = ? WHERE at < ?').run(before, before);
  }
}

const namedOf = (named: HoldKept['named']): Pick<HoldKept, 'named'> => (named === undefined ? {} : { named });

/** Read again after a stop, a step is the one that stands there. */
function withStep(hold: HoldKept, step: StepKept): HoldKept {
  const others = hold.steps.filter(({ cause, state }) => cause !== step.cause || state !== step.state);
  return { ...hold, steps: [...others, step] };
}
