// The sockets of the broker: plain on loopback, TLS elsewhere, never more than the limit.
import { createServer, type Server, type Socket } from 'node:net';
import { createServer as createTlsServer } from 'node:tls';
import type { BrokerLimits, BrokerSettings } from './settings.ts';

export interface ListenerPorts {
  connected(socket: Socket): void;
  turnedAway(reason: 'connections-full' | 'connection-failed', detail: string): void;
}

export class Listener {
  readonly sockets = new Set<Socket>();
  readonly #server: Server;

  constructor(settings: BrokerSettings, limits: BrokerLimits, ports: ListenerPorts) {
    const accept = (socket: Socket): void => {
      // A reset connection is an ordinary end; aedes listens only while it serves it.
      socket.on('error', () => undefined);
      ports.connected(socket);
    };
    if (settings.tls === undefined) {
      this.#server = createServer({ noDelay: true }, accept);
    } else {
      this.#server = createTlsServer(
        {
          cert: asPem(settings.tls.cert),
          key: asPem(settings.tls.key),
          minVersion: 'TLSv1.2',
          handshakeTimeout: limits.connectTimeoutMs,
          noDelay: true,
        },
        accept,
      );
      this.#server.on('tlsClientError', (error: Error, socket: Socket) => {
        // Node leaves it open, and a stranger who never finishes the handshake would keep his place.
        socket.destroy();
        ports.turnedAway('connection-failed', error.message);
      });
    }
    this.#server.maxConnections = limits.connectionsMax;
    this.#server.on('drop', () => ports.turnedAway('connections-full', `more than ${limits.connectionsMax}`));
    this.#server.on('connection', (socket: Socket) => {
      this.sockets.add(socket);
      socket.once('close', () => this.sockets.delete(socket));
    });
  }

  listen(host: string, port: number): Promise<void> {
    return new Promise((resolve, reject) => {
      this.#server.once('error', reject);
      this.#server.listen({ host, port, backlog: 1024 }, () => {
        this.#server.removeListener('error', reject);
        resolve();
      });
    });
  }

  get port(): number {
    const address = this.#server.address();
    if (address === null || typeof address === 'string') throw new Error('the broker does not listen');
    return address.port;
  }

  /** Takes no more connections; those that are open stay. */
  stopAccepting(): void {
    this.#server.close();
  }

  close(): Promise<void> {
    for (const socket of this.sockets) socket.destroy();
    return new Promise((resolve) => {
      if (this.#server.listening) this.#server.close(() => resolve());
      else resolve();
    });
  }
}

function asPem(pem: string | Uint8Array): string | Buffer {
  return typeof pem === 'string' ? pem : Buffer.from(pem);
}
