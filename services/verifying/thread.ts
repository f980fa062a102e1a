// The thread that checks the chain: reads the journal on a connection of its own, says how far it is, answers once and ends.
import { parentPort, workerData } from 'node:worker_threads';
import type { ChainVerdictView } from '../../shared/record.ts';
import { linkOfText, linkText, openReader, verifyChain, type ChainVerdict } from '../journal/index.ts';
import type { FromVerifying, VerifyingWork } from './protocol.ts';

const port = parentPort;
if (port === null) throw new Error('thread.ts is started by a check of the chain, as a worker');
const send = (message: FromVerifying): void => port.postMessage(message);

const PROGRESS_MS = 100;

async function run({ journal: settings, noted }: VerifyingWork): Promise<void> {
  const journal = await openReader(settings);
  let told = performance.now();
  const verdict = await verifyChain(journal, {
    noted: noted === undefined ? undefined : linkOfText(noted),
    progress: (share) => {
      const now = performance.now();
      if (now - told < PROGRESS_MS) return;
      told = now;
      send({ kind: 'progress', share });
    },
  });
  await journal.close();
  send({ kind: 'verdict', verdict: shown(verdict) });
  port?.close();
}

function shown(verdict: ChainVerdict): ChainVerdictView {
  if (verdict.kind === 'broken') return verdict;
  const { head, ...said } = verdict;
  return head === undefined ? said : { ...said, head: linkText(head) };
}

run(workerData as VerifyingWork).catch((failure: unknown) => {
  send({ kind: 'failed', message: failure instanceof Error ? failure.message : String(failure) });
  port.close();
});
