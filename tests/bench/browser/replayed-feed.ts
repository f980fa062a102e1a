// A way in front of the service on which the feed is told at speed: frames that were recorded, numbered and timed on and on.
import { createServer, request, type IncomingMessage, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import { WebSocket, WebSocketServer } from 'ws';
import type { FeedFrame } from '../../../shared/feed.ts';

type Snapshot = Extract<FeedFrame, { frame: 'snapshot' }>;
type Change = Extract<FeedFrame, { frame: 'change' }>;

export interface Recorded {
  readonly snapshot: Snapshot;
  readonly changes: readonly Change[];
}

/** The nth frame after the snapshot, n from 0: what was recorded comes round again and again, each time as of its own time. */
export function replayedFrame({ snapshot, changes }: Recorded, n: number, everyMs: number): Change {
  const recorded = changes[n % changes.length];
  if (recorded === undefined) throw new Error('no change was recorded');
  const now = snapshot.floor.now + (n + 1) * everyMs;
  const laterMs = now - recorded.now;
  const spindles = recorded.spindles.map((row) =>
    row.lastReadingAt === undefined ? row : { ...row, lastReadingAt: row.lastReadingAt + laterMs },
  );
  return { ...recorded, number: snapshot.number + n + 1, now, spindles };
}

export interface ReplayedFeed {
  readonly url: string;
  /** Sends the next so many frames to every dashboard; gives the number of the last. */
  send(frames: number): number;
  close(): Promise<void>;
}

/** Everything but the feed is the service's own. */
export async function openReplayedFeed(service: string, recorded: Recorded, everyMs: number): Promise<ReplayedFeed> {
  const server = createServer((asked, answer) => forward(service, asked, answer));
  const sockets = new WebSocketServer({ server, path: '/api/feed' });
  sockets.on('connection', (socket) => socket.send(JSON.stringify(recorded.snapshot)));
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const { port } = server.address() as AddressInfo;
  let sent = 0;
  return {
    url: `http://127.0.0.1:${port}`,
    send: (frames) => {
      for (const end = sent + frames; sent < end; sent += 1) {
        const text = JSON.stringify(replayedFrame(recorded, sent, everyMs));
        for (const socket of sockets.clients) if (socket.readyState === WebSocket.OPEN) socket.send(text);
      }
      return recorded.snapshot.number + sent;
    },
    close: async () => {
      for (const socket of sockets.clients) socket.terminate();
      sockets.close();
      server.closeAllConnections();
      await new Promise((resolve) => server.close(resolve));
    },
  };
}

function forward(service: string, asked: IncomingMessage, answer: ServerResponse): void {
  const { method, headers, url = '/' } = asked;
  const on = request(new URL(url, service), { method, headers: { ...headers, host: new URL(service).host } });
  on.on('response', (came) => {
    answer.writeHead(came.statusCode ?? 502, came.headers);
    came.pipe(answer);
  });
  on.on('error', () => answer.destroy());
  asked.pipe(on);
}
