// A first look should not fail because something else runs on the usual port.
import { createServer } from 'node:net';

/** The port, or 0 for any free one where another program has it. */
export function portOrAny(host: string, port: number): Promise<number> {
  const server = createServer();
  return new Promise((resolve) => {
    server.once('error', () => resolve(0));
    server.listen({ host, port, exclusive: true }, () => server.close(() => resolve(port)));
  });
}
