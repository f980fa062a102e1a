// Looks after connections that say nothing: those that never sign in, stop in the middle of a packet, or fell silent.
import type { Lane, LaneHost } from './lane.ts';

const KEEPALIVE_PARTS = 1.5;

/** Closes the connection if one of its times is up. Times stand still while it is we who do not read. */
export function watchLane(lane: Lane, host: LaneHost): void {
  const { limits } = host;
  const nowMs = host.nowMs();
  const openForMs = nowMs - lane.openedAtMs;
  if (lane.stage === 'connecting') {
    if (openForMs > limits.connectTimeoutMs)
      host.refuse(lane, 'connect-too-late', `after ${limits.connectTimeoutMs} ms`);
    return;
  }
  if (lane.stage === 'authenticating') {
    const limitMs = limits.connectTimeoutMs + limits.authenticateTimeoutMs;
    if (openForMs > limitMs) host.refuse(lane, 'connect-too-late', 'signing in took too long');
    else watchPacket(lane, host, nowMs);
    return;
  }
  if (lane.isWaiting || lane.socket.readableLength > 0) {
    lane.heardAtMs = nowMs;
    return;
  }
  if (watchPacket(lane, host, nowMs)) return;
  if (nowMs - lane.heardAtMs > lane.keepaliveMs * KEEPALIVE_PARTS) {
    host.refuse(
      lane,
      'keepalive-elapsed',
      `nothing heard within ${KEEPALIVE_PARTS} times ${lane.keepaliveMs / 1000} s`,
    );
  }
}

function watchPacket(lane: Lane, host: LaneHost, nowMs: number): boolean {
  const sinceMs = lane.unfinishedSinceMs;
  if (sinceMs === undefined) return false;
  const { stallTimeoutMs, packetTimeoutMs } = host.limits;
  if (nowMs - lane.heardAtMs <= stallTimeoutMs && nowMs - sinceMs <= packetTimeoutMs) return false;
  host.refuse(lane, 'packet-unfinished', `a packet begun ${Math.round(nowMs - sinceMs)} ms ago is not complete`);
  return true;
}
