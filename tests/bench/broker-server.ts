// A broker in a process of its own for the ratio: bare aedes that counts, or ours whose admissions are durable at once.
import { createServer } from 'node:net';
import { fileURLToPath } from 'node:url';
import { Aedes } from 'aedes';
import { startBroker } from '../../services/broker/index.ts';

export type Variant = 'bare' | 'ours' | 'ours-later';

async function bare(): Promise<number> {
  let counted = 0;
  const aedes = await Aedes.createBroker({
    authorizePublish: (_client, _packet, done) => {
      counted += 1;
      done(null);
    },
  });
  // aedes.handle is bound; what it returns is not needed.
  const server = createServer((socket) => void aedes.handle(socket));
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  process.on('disconnect', () => process.exit(counted > 0 ? 0 : 1));
  const address = server.address();
  return typeof address === 'object' && address !== null ? address.port : 0;
}

/** `later`: durable at the end of the turn of the loop, as with a store that answers in batches. */
async function ours(later: boolean): Promise<number> {
  let pending: (() => void)[] = [];
  const settle = (): void => {
    const batch = pending;
    pending = [];
    for (const done of batch) done();
  };
  const broker = await startBroker(
    {
      plant: 'p1',
      host: '127.0.0.1',
      port: 0,
      limits: { packetsPerSecondPerDevice: 1_000_000, packetsBurstPerDevice: 1_000_000 },
    },
    {
      admit: (_packet, done) => {
        if (!later) return done();
        if (pending.length === 0) setImmediate(settle);
        pending.push(done);
      },
      authenticate: async (device) => ({ device, kind: 'sensor', serves: [] }),
      connection: () => undefined,
      refused: (what) => console.error(what),
    },
  );
  process.on('disconnect', () => process.exit(0));
  return broker.port;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const variant = process.argv[2] as Variant;
  const port = await (variant === 'bare' ? bare() : ours(variant === 'ours-later'));
  process.send?.({ port });
  process.on('message', () => process.send?.({ cpu: process.cpuUsage() }));
}
