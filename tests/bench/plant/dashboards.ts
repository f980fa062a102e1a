// Dashboards as programs: signed in, on the feed over WebSocket.
import { WebSocket } from 'ws';
import type { FeedFrame } from '../../../shared/feed.ts';
import type { BenchService } from './bench-service.ts';

export interface Dashboard {
  readonly frames: () => number;
  readonly bytes: () => number;
  close(): void;
}

/** Resolves with the snapshot. Without `take` the frames are counted and not read. */
export function openDashboard(
  { url }: BenchService,
  cookie: string,
  take?: (frame: FeedFrame, atMs: number) => void,
): Promise<Dashboard> {
  return new Promise((resolve, reject) => {
    const socket = new WebSocket(`${url.replace('http', 'ws')}/api/feed`, { headers: { cookie, origin: url } });
    let frames = 0;
    let bytes = 0;
    const dashboard: Dashboard = { frames: () => frames, bytes: () => bytes, close: () => socket.close() };
    socket.on('error', reject);
    socket.on('message', (data: Buffer) => {
      const atMs = performance.now();
      frames += 1;
      bytes += data.length;
      take?.(JSON.parse(data.toString()) as FeedFrame, atMs);
      if (frames === 1) resolve(dashboard);
    });
  });
}
