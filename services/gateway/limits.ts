// Every limit of the gateway under its name.

export interface GatewayLimits {
  readonly bodyBytesMax: number;
  /** From one address. */
  readonly requestsPerMinuteMax: number;
  readonly signInsPerMinuteMax: number;
  readonly requestMs: number;
  readonly connectionsMax: number;
  readonly feedConnectionsMax: number;
  readonly feedConnectionsPerPersonMax: number;
  /** Clients have nothing to say on the feed; control frames are at most 125 bytes. */
  readonly feedPayloadBytesMax: number;
  /** Not yet sent to one client beyond this, or twice a snapshot: it gets nothing more until it has caught up. */
  readonly feedBufferedBytesMax: number;
  /** A client that has not caught up by then is let go. */
  readonly feedBehindMs: number;
  readonly feedPingMs: number;
  /** Frames kept for a client that waits for its snapshot. */
  readonly feedPendingFramesMax: number;
  readonly holdsMax: number;
  readonly rejectsMax: number;
  readonly seriesPointsMax: number;
  /** A screen has no more columns of pixels. */
  readonly spectrogramColumnsMax: number;
  readonly logLinesMax: number;
  /** A raw window that a device sends by HTTP, and how many are read at once; whoever comes beyond is told to come back. */
  readonly windowBytesMax: number;
  /** The same in JSON, which takes the plant's thread ten times as long to read; larger ones come in CBOR. */
  readonly windowJsonBytesMax: number;
  readonly windowsAtOnceMax: number;
  /** Wrong secrets of devices within a minute: from one address for one name, and from one address. */
  readonly secretsPerDevicePerMinuteMax: number;
  readonly secretsPerAddressPerMinuteMax: number;
}

export const GATEWAY_LIMITS: GatewayLimits = {
  bodyBytesMax: 64 * 1024,
  requestsPerMinuteMax: 6000,
  signInsPerMinuteMax: 60,
  requestMs: 30_000,
  connectionsMax: 2000,
  feedConnectionsMax: 200,
  feedConnectionsPerPersonMax: 40,
  feedPayloadBytesMax: 1024,
  feedBufferedBytesMax: 1024 * 1024,
  feedBehindMs: 30_000,
  feedPingMs: 20_000,
  feedPendingFramesMax: 256,
  holdsMax: 1000,
  rejectsMax: 500,
  seriesPointsMax: 4000,
  spectrogramColumnsMax: 2000,
  logLinesMax: 1000,
  windowBytesMax: 16 * 1024 * 1024,
  windowJsonBytesMax: 4 * 1024 * 1024,
  windowsAtOnceMax: 2,
  secretsPerDevicePerMinuteMax: 10,
  secretsPerAddressPerMinuteMax: 60,
};
