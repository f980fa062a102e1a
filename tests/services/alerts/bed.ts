// A test bed for the alerts: a clock moved by hand, a record of tries as the journal would keep it, and folded views.
import { join } from 'node:path';
import type { NoticeTry } from '../../../shared/acts.ts';
import type { HoldView } from '../../../shared/views.ts';
import {
  readOrMakeKey,
  startAlerts,
  type After,
  type AlertLimits,
  type AlertPorts,
  type Alerts,
} from '../../../services/alerts/index.ts';
import { makeFolder } from '../../environment/folder.ts';
import { RAISED_AT } from './holds.ts';

export interface Bed {
  readonly clock: { now(): number };
  readonly after: After;
  /** Moves the clock on and runs what is due, in order. */
  advance(ms: number): void;
  /** How many waits are set. */
  waits(): number;
  readonly recorded: NoticeTry[];
  readonly logged: string[];
  readonly keyFile: string;
  key(): Uint8Array;
  /** The views as the journal would show them now. */
  views(): HoldView[];
  start(url: string, holds: readonly HoldView[], more?: BedStart): Alerts;
  remove(): void;
}

export interface BedStart {
  readonly limits?: Partial<AlertLimits>;
  readonly ports?: Partial<AlertPorts>;
  readonly dashboard?: string;
}

export function makeBed(): Bed {
  const folder = makeFolder('alerts');
  const keyFile = join(folder.path, 'keys', 'maintenance.key');
  let now = RAISED_AT + 1000;
  let waits: { at: number; run: () => void }[] = [];
  const recorded: NoticeTry[] = [];
  const recordedAt = new Map<NoticeTry, number>();
  const logged: string[] = [];
  let listed: readonly HoldView[] = [];
  const after: After = (ms, run) => {
    const wait = { at: now + ms, run };
    waits.push(wait);
    return () => void (waits = waits.filter((one) => one !== wait));
  };
  const log = (about: object, text: string): void => void logged.push(`${text} ${JSON.stringify(about)}`);
  const views = (): HoldView[] =>
    listed.map((hold) => ({ ...hold, notices: noticesOf(hold.holdId, recorded, recordedAt) }));
  return {
    clock: { now: () => now },
    after,
    advance: (ms) => {
      now += ms;
      for (const due of waits.filter((wait) => wait.at <= now).toSorted((a, b) => a.at - b.at)) {
        waits = waits.filter((wait) => wait !== due);
        due.run();
      }
    },
    waits: () => waits.length,
    recorded,
    logged,
    keyFile,
    key: () => {
      const read = readOrMakeKey(keyFile);
      if ('fault' in read) throw new Error(read.fault);
      return read.key;
    },
    views,
    start: (url, holds, { limits, ports, dashboard } = {}) => {
      listed = holds;
      const settings = { plant: 'p1', webhooks: [{ channel: 'maintenance', url, keyFile }] };
      return startAlerts(
        { ...settings, ...(limits === undefined ? {} : { limits }), ...(dashboard === undefined ? {} : { dashboard }) },
        {
          clock: { now: () => now },
          after,
          holds: async () => views(),
          record: async (made) => {
            recorded.push(made);
            recordedAt.set(made, now);
          },
          log: { info: log, warn: log },
          ...ports,
        },
      );
    },
    remove: () => folder.remove(),
  };
}

function noticesOf(
  holdId: string,
  recorded: readonly NoticeTry[],
  at: ReadonlyMap<NoticeTry, number>,
): HoldView['notices'] {
  return recorded
    .filter((made) => made.holdId === holdId)
    .map((made) => {
      const { holdId: _holdId, detail, ...view } = made;
      return { ...view, at: at.get(made) ?? 0, ...(detail === undefined ? {} : { detail }) };
    });
}
