// Access on a real PostgreSQL, started for this file.
import { afterAll, beforeAll } from 'vitest';
import { postgresTables } from '../../../services/access/index.ts';
import { startPostgres, type Postgres } from '../../environment/postgres.ts';
import { accessContract } from './contract.ts';

let server: Postgres;
let databases = 0;

beforeAll(async () => {
  server = await startPostgres();
});
afterAll(() => server.stop());

accessContract('PostgreSQL', async () => {
  databases += 1;
  return postgresTables({ url: await server.freshDatabase(`access${databases}`) });
});
