// Opens access where the settings say: a file of its own beside the journal, or the plant's PostgreSQL.
import { join } from 'node:path';
import type { Clock } from '../../shared/time.ts';
import type { AccessStore } from './faces.ts';
import type { AccessLimits } from './limits.ts';
import { postgresTables } from './postgres.ts';
import { sqliteTables } from './sqlite.ts';
import { createAccess } from './store.ts';

export interface AccessSettings {
  /** access.sqlite and first-sign-in are made there; the directory exists already. */
  readonly dataDir: string;
  /** Users and devices stand in PostgreSQL instead of the file. */
  readonly postgres?: { readonly url: string; readonly schema?: string };
  readonly clock: Clock;
  readonly limits?: Partial<AccessLimits>;
}

export async function openAccess({ dataDir, postgres, clock, limits }: AccessSettings): Promise<AccessStore> {
  const tables = postgres === undefined ? sqliteTables(join(dataDir, 'access.sqlite')) : await postgresTables(postgres);
  return createAccess({
    tables,
    clock,
    firstSignInFile: join(dataDir, 'first-sign-in'),
    ...(limits === undefined ? {} : { limits }),
  });
}
