// A TCP connection that a test can cut, as a cable between a relay and its broker.
import { connect, createServer, type Socket } from 'node:net';
import { LOOPBACK } from '../../environment/loopback.ts';

export interface Cable {
  readonly port: number;
  /** Ends every connection at once, with whatever is on its way. */
  cut(): void;
  /** While unplugged, connections are accepted and end at once. */
  unplug(): void;
  plug(): void;
  remove(): Promise<void>;
}

export async function layCable(to: number): Promise<Cable> {
  const sockets = new Set<Socket>();
  let isPlugged = true;
  const keep = (socket: Socket): void => {
    sockets.add(socket);
    socket.on('error', () => undefined);
    socket.on('close', () => sockets.delete(socket));
  };
  const cut = (): void => {
    for (const socket of sockets) socket.resetAndDestroy();
  };
  const server = createServer((near) => {
    keep(near);
    if (!isPlugged) return void near.destroy();
    const far = connect({ port: to, host: LOOPBACK });
    keep(far);
    near.pipe(far).pipe(near);
    near.on('close', () => far.destroy());
    far.on('close', () => near.destroy());
  });
  await new Promise<void>((resolve) => server.listen(0, LOOPBACK, resolve));
  const address = server.address();
  if (address === null || typeof address === 'string') throw new Error('a TCP server has a port');
  return {
    port: address.port,
    cut,
    unplug: () => {
      isPlugged = false;
      cut();
    },
    plug: () => {
      isPlugged = true;
    },
    remove: async () => {
      cut();
      await new Promise((resolve) => server.close(resolve));
    },
  };
}
