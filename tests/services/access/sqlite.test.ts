// Access on SQLite, the default; and that its file is its owner's alone.
import { statSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { openAccess, sqliteTables } from '../../../services/access/index.ts';
import { makeFolder } from '../../environment/folder.ts';
import { accessContract } from './contract.ts';

accessContract('SQLite', (folder) => Promise.resolve(sqliteTables(join(folder, 'access.sqlite'))));

test('the file can be read by its owner only, and what is in it lives on', async () => {
  const folder = makeFolder('access');
  const settings = { dataDir: folder.path, clock: { now: () => 1_000_000 } };
  const access = await openAccess(settings);
  expect(statSync(join(folder.path, 'access.sqlite')).mode & 0o777).toBe(0o600);
  const enrolled = await access.enrol('Ada', { device: 'bench-1', kind: 'bench', serves: ['B-1'] });
  await access.close();
  const again = await openAccess(settings);
  const secret = enrolled.kind === 'enrolled' ? enrolled.secret : '';
  expect(await again.checkDevice('bench-1', secret)).toEqual({ device: 'bench-1', kind: 'bench', serves: ['B-1'] });
  await again.close();
  folder.remove();
});
