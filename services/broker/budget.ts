// How much may be on its way between sockets and store: per device, whatever it does with its connections, and overall.
import type { BrokerLimits } from './settings.ts';

/** What one device has on its way, and how much it may still send now. */
export interface Share {
  readonly device: string;
  packets: number;
  bytes: number;
  tokens: number;
  refilledAtMs: number;
  connected: boolean;
}

/** Reading goes on below these parts of the limits, so that a full device does not start and stop with each packet. */
const LOW_MARK_DEVICE = 0.5;
const LOW_MARK_OVERALL = 0.75;

export class Budget {
  packets = 0;
  bytes = 0;
  readonly #limits: BrokerLimits;
  readonly #shares = new Map<string, Share>();

  constructor(limits: BrokerLimits) {
    this.#limits = limits;
  }

  /** The device's share; one that it had before, on another connection, goes on. */
  shareOf(device: string, nowMs: number): Share {
    let share = this.#shares.get(device);
    if (share === undefined) {
      const tokens = this.#limits.packetsBurstPerDevice;
      share = { device, packets: 0, bytes: 0, tokens, refilledAtMs: nowMs, connected: true };
      this.#shares.set(device, share);
    }
    share.connected = true;
    return share;
  }

  /** One message can always pass an empty share, however large it is. */
  fits(share: Share, bytes: number): boolean {
    const limits = this.#limits;
    return (
      share.packets < limits.packetsPerDevice &&
      (share.bytes + bytes <= limits.bytesPerDevice || share.packets === 0) &&
      this.packets < limits.packetsOverall &&
      (this.bytes + bytes <= limits.bytesOverall || this.packets === 0)
    );
  }

  reserve(share: Share, bytes: number): void {
    share.packets += 1;
    share.bytes += bytes;
    this.packets += 1;
    this.bytes += bytes;
  }

  release(share: Share, packets: number, bytes: number): void {
    share.packets -= packets;
    share.bytes -= bytes;
    this.packets -= packets;
    this.bytes -= bytes;
  }

  /** Takes one packet from the device's allowance of packets per second; negative allowances are debts. */
  spend(share: Share): void {
    share.tokens -= 1;
  }

  refill(share: Share, nowMs: number): void {
    const limits = this.#limits;
    const gained = ((nowMs - share.refilledAtMs) / 1000) * limits.packetsPerSecondPerDevice;
    share.tokens = Math.min(limits.packetsBurstPerDevice, share.tokens + gained);
    share.refilledAtMs = nowMs;
  }

  /** Whether a device whose socket is not read may be read again. */
  isLow(share: Share): boolean {
    const limits = this.#limits;
    const deviceLow =
      share.packets <= limits.packetsPerDevice * LOW_MARK_DEVICE &&
      (share.bytes <= limits.bytesPerDevice * LOW_MARK_DEVICE || share.packets === 0);
    return deviceLow && this.isOverallLow();
  }

  isOverallLow(): boolean {
    const limits = this.#limits;
    return (
      this.packets <= limits.packetsOverall * LOW_MARK_OVERALL && this.bytes <= limits.bytesOverall * LOW_MARK_OVERALL
    );
  }

  disconnected(share: Share): void {
    share.connected = false;
  }

  /** Forgets devices that are gone, owe nothing and would have their full allowance anyway. */
  tidy(nowMs: number): void {
    for (const share of this.#shares.values()) {
      if (share.connected || share.packets > 0) continue;
      this.refill(share, nowMs);
      if (share.tokens >= this.#limits.packetsBurstPerDevice) this.#shares.delete(share.device);
    }
  }
}
