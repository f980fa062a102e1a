import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import {
  DEAD_AFTER_MS,
  FeedClient,
  LIVE_WITHIN_MS,
  PAUSE_MAX_MS,
  pauseBefore,
  type FeedListener,
} from '../../dashboard/feed-client.ts';
import { inventedPlant } from './fixtures/invented-plant.ts';

const { floor } = inventedPlant(3, 0);

let opened: (FeedListener & { isClosed: boolean })[];
let lost: string[];
let client: FeedClient;
let pictures: number[];

beforeEach(() => {
  vi.useFakeTimers();
  opened = [];
  lost = [];
  pictures = [];
  client = new FeedClient({
    open: (listener) => {
      const socket = { ...listener, isClosed: false };
      opened.push(socket);
      return { close: () => void (socket.isClosed = true) };
    },
    clock: () => Date.now(),
    spread: () => 0.5,
    onPicture: (picture) => pictures.push(picture.number),
    onLost: (reason) => lost.push(reason),
  });
  client.start();
});
afterEach(() => {
  client.stop();
  vi.useRealTimers();
});

const last = () => opened.at(-1)!;
const snapshot = (number: number): string => JSON.stringify({ frame: 'snapshot', number, floor });
const change = (number: number): string =>
  JSON.stringify({ frame: 'change', number, now: number, spindles: [], holds: [] });

test('is live only while frames come', () => {
  expect(client.isLive()).toBe(false);
  last().message(snapshot(1));
  expect(client.isLive()).toBe(true);
  vi.advanceTimersByTime(LIVE_WITHIN_MS);
  expect(client.isLive()).toBe(false);
  last().message(change(2));
  expect(client.isLive()).toBe(true);
});

test('a connection that has ended is not live for another moment; with the first frame of the next it is', () => {
  last().message(snapshot(1));
  last().closed(1006);
  expect(client.isLive()).toBe(false);
  vi.advanceTimersByTime(pauseBefore(0, 0.5));
  expect(client.isLive()).toBe(false);
  last().message(snapshot(2));
  expect(client.isLive()).toBe(true);
});

test('a gap in the numbers makes a new connection at once, and what it brings is taken', () => {
  last().message(snapshot(1));
  last().message(change(3));
  expect(opened).toHaveLength(2);
  expect(opened[0]?.isClosed).toBe(true);
  last().message(snapshot(3));
  last().message(change(4));
  expect(pictures).toEqual([1, 3, 4]);
});

test('a connection that begins without a snapshot is not tried again in a circle', () => {
  last().message(change(5));
  expect(opened).toHaveLength(1);
  expect(lost).toEqual(['closed']);
  vi.advanceTimersByTime(pauseBefore(0, 0.5));
  expect(opened).toHaveLength(2);
});

test('a frame of a new connection does not continue an old picture by chance', () => {
  last().message(snapshot(1));
  last().closed(1006);
  vi.advanceTimersByTime(pauseBefore(0, 0.5));
  last().message(change(2));
  expect(pictures).toEqual([1]);
});

test('comes back after growing pauses, and begins again with short ones after a frame', () => {
  for (let tries = 0; tries < 4; tries += 1) {
    last().closed(1006);
    vi.advanceTimersByTime(pauseBefore(tries, 0.5) - 1);
    expect(opened).toHaveLength(tries + 1);
    vi.advanceTimersByTime(1);
    expect(opened).toHaveLength(tries + 2);
  }
  last().message(snapshot(9));
  last().closed(1006);
  vi.advanceTimersByTime(pauseBefore(0, 0.5));
  expect(opened).toHaveLength(6);
  expect(pauseBefore(40, 1)).toBeLessThanOrEqual(PAUSE_MAX_MS * 1.25);
});

test('a connection on which nothing comes any more is given up and made anew', () => {
  last().message(snapshot(1));
  vi.advanceTimersByTime(DEAD_AFTER_MS * 2);
  expect(opened.length).toBeGreaterThan(1);
  expect(opened[0]?.isClosed).toBe(true);
});

test('tells a session that has ended from a network that is gone', () => {
  last().closed(4401);
  expect(lost).toEqual(['session-over']);
});

test('what an old connection still says is not listened to', () => {
  const first = last();
  first.message(snapshot(1));
  first.message(change(3));
  first.message(change(2));
  first.closed(1006);
  expect(pictures).toEqual([1]);
  expect(lost).toEqual([]);
});

test('stopped, it stays stopped', () => {
  last().message(snapshot(1));
  client.stop();
  vi.advanceTimersByTime(60_000);
  expect(opened).toHaveLength(1);
});
