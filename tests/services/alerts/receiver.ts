// A receiver of notices on loopback: a real HTTP server whose answers a test scripts, and which keeps what came.
import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import { LOOPBACK } from '../../environment/loopback.ts';

export interface Received {
  readonly headers: Readonly<Record<string, string | undefined>>;
  readonly body: string;
}

/** What to answer to the n-th request; `hang` never answers. */
export type Answer = { readonly status: number; readonly location?: string; readonly body?: string } | 'hang';

export interface Receiver {
  readonly url: string;
  readonly received: readonly Received[];
  /** Connections that a hanging answer saw cut by the other side. */
  cut(): number;
  close(): Promise<void>;
}

export async function startReceiver(answer: (request: number, received: Received) => Answer): Promise<Receiver> {
  const received: Received[] = [];
  let cut = 0;
  const server = createServer((request, response) => {
    response.on('close', () => {
      if (!response.writableFinished) cut += 1;
    });
    void bodyOf(request).then((body) => {
      const one: Received = { headers: headersOf(request), body };
      received.push(one);
      reply(response, answer(received.length, one));
    });
  });
  await new Promise<void>((resolve) => server.listen(0, LOOPBACK, resolve));
  return {
    url: `http://${LOOPBACK}:${portOf(server)}/plant?room=2`,
    received,
    cut: () => cut,
    close: () => stop(server),
  };
}

async function bodyOf(request: IncomingMessage): Promise<string> {
  const chunks: Buffer[] = [];
  for await (const chunk of request) chunks.push(chunk as Buffer);
  return Buffer.concat(chunks).toString('utf8');
}

function headersOf(request: IncomingMessage): Record<string, string | undefined> {
  return Object.fromEntries(Object.entries(request.headers).map(([name, value]) => [name, value?.toString()]));
}

function reply(response: ServerResponse, answer: Answer): void {
  if (answer === 'hang') return;
  response.writeHead(answer.status, answer.location === undefined ? {} : { location: answer.location });
  response.end(answer.body ?? '');
}

function portOf(server: Server): number {
  const address = server.address();
  if (address === null || typeof address === 'string') throw new Error('a TCP server has a port');
  return address.port;
}

function stop(server: Server): Promise<void> {
  server.closeAllConnections();
  return new Promise((resolve) => server.close(() => resolve()));
}
