// The contract over SQLite, and what is SQLite's own: the lock, readers beside the writer, a full disk, a broken one.
import { join } from 'node:path';
import { openJournal } from '../../../services/journal/index.ts';
import { makeFolder } from '../../environment/folder.ts';
import { checkContract } from './contract.ts';

checkContract('sqlite', { lasting: true }, async () => {
  const folder = makeFolder('journal');
  return {
    open: () => openJournal({ store: 'sqlite', file: join(folder.path, 'journal.sqlite') }),
    remove: async () => folder.remove(),
  };
});
