// The contract over the journal in memory.
import { openJournal } from '../../../services/journal/index.ts';
import { checkContract } from './contract.ts';

checkContract('memory', { lasting: false }, async () => ({
  open: () => openJournal({ store: 'memory' }),
  remove: async () => undefined,
}));
