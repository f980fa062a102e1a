// The contract over a real PostgreSQL, and what is its own: one appender by a lock, a lost connection.
import { afterAll, beforeAll } from 'vitest';
import { openJournal } from '../../../services/journal/index.ts';
import { startPostgres, type Postgres } from '../../environment/postgres.ts';
import { checkContract } from './contract.ts';

let server: Postgres;
let databases = 0;

beforeAll(async () => {
  server = await startPostgres();
});
afterAll(() => server.stop());

checkContract('postgres', { lasting: true }, async () => {
  databases += 1;
  const url = await server.freshDatabase(`journal-${databases}`);
  return { open: () => openJournal({ store: 'postgres', url }), remove: async () => undefined };
});
