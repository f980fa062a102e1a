// A dashboard's end of the feed, for tests.
import { WebSocket } from 'ws';
import type { FeedFrame } from '../../../shared/feed.ts';
import { waitFor } from '../../environment/wait-for.ts';

export interface Watcher {
  readonly socket: WebSocket;
  readonly frames: FeedFrame[];
  readonly numbers: () => readonly number[];
  /** The close code once it is closed. */
  closed(): Promise<number>;
  until(what: string, isSo: () => boolean | Promise<boolean>): Promise<void>;
}

export const NO_ORIGIN = 'none';

/** A dashboard's socket. Rejects with the HTTP status where the upgrade was refused. */
export async function watch(url: string, headers: Readonly<Record<string, string>>): Promise<Watcher> {
  const { origin = url, ...rest } = headers;
  const options = { headers: origin === NO_ORIGIN ? rest : { origin, ...rest } };
  const socket = new WebSocket(`${url.replace('http', 'ws')}/api/feed`, options);
  const frames: FeedFrame[] = [];
  let code: number | undefined;
  socket.on('message', (data: Buffer) => frames.push(JSON.parse(data.toString()) as FeedFrame));
  socket.on('close', (closeCode) => (code = closeCode));
  await new Promise<void>((resolve, reject) => {
    socket.once('open', resolve);
    socket.once('error', reject);
  });
  return {
    socket,
    frames,
    numbers: () => frames.map((frame) => frame.number),
    closed: () => waitFor('the socket to close', () => code),
    until: async (what, isSo) => void (await waitFor(what, isSo)),
  };
}
