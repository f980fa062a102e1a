// Counts tries at signing in, in the tables, so that a restart or a second process gives nobody new ones.
import type { Context } from './context.ts';
import { numberOf, statement, textOf } from './tables.ts';

export interface Tried {
  /** Seconds to wait; absent when the try may be made. */
  readonly retryAfterS?: number;
  /** The try was good: it does not count. */
  readonly succeeded: () => Promise<void>;
}

/** Counts before the costly comparison: a burst of tries at once gets no more than tries one by one. */
export async function countTry({ tables, clock, limits }: Context, name: string, from: string): Promise<Tried> {
  const now = clock.now();
  const begin = now - limits.triesWindowMs;
  const folded = name.toLowerCase().slice(0, 40);
  const ceilings = new Map([
    [`both ${folded} ${from}`, limits.triesPerNameAndAddressMax],
    [`address ${from}`, limits.triesPerAddressMax],
    [`name ${folded}`, limits.triesPerNameMax],
  ]);
  const keys = [...ceilings.keys()];
  await tables.write(statement('DELETE FROM tries WHERE since < ?', begin));
  // Counted and read in one statement: two at the same moment never see the same count.
  const rows = await tables.rows(
    `INSERT INTO tries (who, since, count) VALUES (?, ?, 1), (?, ?, 1), (?, ?, 1)
     ON CONFLICT (who) DO UPDATE SET count = tries.count + 1 RETURNING who, since, count`,
    ...keys.flatMap((key) => [key, now]),
  );
  const over = rows.filter((row) => numberOf(row, 'count') > (ceilings.get(textOf(row, 'who')) ?? 0));
  const waits = over.map((row) => Math.ceil((numberOf(row, 'since') + limits.triesWindowMs - now) / 1000));
  const succeeded = async (): Promise<void> => {
    const [both, ...others] = keys;
    if (both === undefined) return;
    await tables.write(
      statement('DELETE FROM tries WHERE who = ?', both),
      ...others.map((key) => statement('UPDATE tries SET count = count - 1 WHERE who = ? AND count > 0', key)),
    );
  };
  return waits.length === 0 ? { succeeded } : { retryAfterS: Math.max(1, ...waits), succeeded };
}
