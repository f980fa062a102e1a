// Deciding of what tells whether a bench is to be believed: its checks, the end of its calibration, a person's word.
import type { ActEntry, EntryOf, TickEntry } from '../../shared/entries.ts';
import { say } from '../../shared/language/index.ts';
import type { Outcome } from '../../shared/outcomes.ts';
import { overdueCalibration } from './bench-doubt.ts';
import { benchHoldRule } from './bench-hold-rule.ts';
import { touchedBy } from './bench-touched.ts';
import { unitRemarks } from './channel-units.ts';
import { subjectKey, type BenchState, type Floor } from './floor.ts';
import { TOUCHED_NAMED_MAX } from './limits.ts';
import { escalationRule } from './escalation-rule.ts';
import type { Outcomes } from './raising.ts';
import { settleAll } from './release.ts';
import { tickRule } from './state-rule.ts';
import { begin, finish, type Work } from './work.ts';

const NOTHING: readonly Outcome[] = [];

export function decideCheck(floor: Floor, entry: EntryOf<'proof'> | EntryOf<'test'>): readonly Outcome[] {
  const work = begin(floor, entry);
  remarkTrust(work, floor.benches.get(entry.device), entry.device);
  return finish(work);
}

/** A bench says at birth until when it is calibrated, and in which units it measures. */
export function decideBirth(floor: Floor, entry: EntryOf<'birth'>): readonly Outcome[] {
  const { device, data, position: cause } = entry;
  const subject = data.kind === 'bench' ? ({ kind: 'bench', id: device } as const) : undefined;
  const remarks = unitRemarks(device, data).map((remark): Outcome => ({
    cause,
    kind: 'remarked',
    subject: subject ?? { kind: 'plant', id: floor.plant },
    remark,
  }));
  if (subject === undefined) return remarks;
  const work = begin(floor, entry);
  remarkTrust(work, floor.benches.get(device), device);
  return [...remarks, ...finish(work)];
}

/** Silence and old readings, and benches whose calibration has ended since the clock last went on. */
export function decideTick(floor: Floor, entry: TickEntry): readonly Outcome[] {
  const silent = [...tickRule(floor, entry), ...escalationRule(floor, entry)];
  const overdue = [...floor.benches.values()].filter(
    (bench) => overdueCalibration(bench, entry.at) !== undefined || isDoubtedUnheld(floor, bench),
  );
  if (overdue.length === 0) return silent;
  const work = begin(floor, entry);
  for (const bench of overdue) remarkTrust(work, bench, bench.bench);
  return [...silent, ...finish(work)];
}

/** In doubt since before benches were put on hold. */
function isDoubtedUnheld(floor: Floor, { bench, doubts }: BenchState): boolean {
  return doubts.length > 0 && !floor.openHolds.has(subjectKey({ kind: 'bench', id: bench }));
}

/** Results that were in doubt count again, and so may end what waited for them. */
export function decideDoubtLifted(
  floor: Floor,
  entry: Extract<ActEntry, { kind: 'doubt-lifted' }>,
): readonly Outcome[] {
  const { benchId, note } = entry.data;
  if (!floor.benches.has(benchId)) return NOTHING;
  const work = begin(floor, entry);
  const { outcomes, layer } = work;
  outcomes.remark({ kind: 'bench', id: benchId }, say`${entry.actor.name} lifted the doubt about ${benchId}: ${note}`);
  const assemblies = [...layer.touchedAssemblies.keys()];
  const spindles = assemblies.flatMap((id) => layer.assembly(id)?.loadedIn ?? []);
  for (const hold of layer.openHolds({ kind: 'bench', id: benchId }))
    outcomes.step(hold, { state: 'released', by: entry.actor.name, deviation: true, note });
  settleAll(outcomes, assemblies, spindles);
  return finish(work);
}

/** What changed of the trust in a bench: said with what it touches, for that is what somebody has to do something about. */
function remarkTrust({ layer, outcomes }: Work, before: BenchState | undefined, id: string): void {
  const after = layer.bench(id);
  if (after === undefined) return;
  const subject = { kind: 'bench', id } as const;
  const known = new Set(before?.doubts.map((doubt) => doubt.cause));
  for (const { cause, why } of after.doubts) {
    if (!known.has(cause) || repeats(outcomes, cause)) outcomes.remark(subject, doubtWords(why, touchedBy(layer, id)));
  }
  if ((before?.doubts.length ?? 0) > 0 && after.doubts.length === 0)
    outcomes.remark(subject, say`${id} has passed its check again: its results from now on count`);
  // Another kind of check as well: the hold lasts until that one is passed too, so it has to be seen there.
  const missed = after.doubts.some(({ position }) => position === outcomes.entry.position);
  benchHoldRule(outcomes, id, { repeats: missed });
}

/** A check that fails once more is said once more. */
function repeats({ entry }: Outcomes, cause: string): boolean {
  if (entry.kind === 'proof') return cause === 'proof';
  return entry.kind === 'test' && cause === entry.data.test;
}

function doubtWords(why: string, { assemblies, spindles }: ReturnType<typeof touchedBy>): string {
  const built = assemblies.length === 0 ? say`no assemblies` : namedAssemblies(assemblies);
  return spindles.length === 0
    ? say`${why}: have the bench checked before its results are used; in doubt are ${built}`
    : say`${why}: have the bench checked before its results are used; in doubt are ${built}, in ${namedSpindles(spindles)}`;
}

const firstOf = (ids: readonly string[]): string => ids.slice(0, TOUCHED_NAMED_MAX).join(', ');
const moreOf = (ids: readonly string[]): number => Math.max(0, ids.length - TOUCHED_NAMED_MAX);

const namedAssemblies = (ids: readonly string[]): string =>
  moreOf(ids) === 0 ? firstOf(ids) : say`${firstOf(ids)} and ${moreOf(ids)} more assemblies`;

const namedSpindles = (ids: readonly string[]): string =>
  moreOf(ids) === 0 ? firstOf(ids) : say`${firstOf(ids)} and ${moreOf(ids)} more spindles`;
