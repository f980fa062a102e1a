// Free ports on the loopback interface, the only one that tests use.
import { createServer } from 'node:net';

export const LOOPBACK = '127.0.0.1';

/** A port that nothing listens on at this moment. */
export function freePort(): Promise<number> {
  return new Promise((resolve, reject) => {
    const server = createServer();
    server.on('error', reject);
    server.listen(0, LOOPBACK, () => {
      const address = server.address();
      if (address === null || typeof address === 'string') throw new Error('a TCP server has a port');
      server.close(() => resolve(address.port));
    });
  });
}
