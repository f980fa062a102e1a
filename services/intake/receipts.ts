// What a device is told of its messages: at once for what must not be lost, every few seconds for what comes often.
import { deviceSource } from '../../shared/envelope.ts';
import { isFrequent } from '../../shared/messages/index.ts';
import { RECEIPT_TYPE, type Receipt } from '../../shared/receipts.ts';
import { rfc3339Of, type Instant } from '../../shared/time.ts';
import { backTopic, type InChannel } from '../../shared/topics.ts';
import type { Stored } from '../journal/index.ts';
import type { Taken } from './delivered.ts';
import { idAlreadyUsed } from './refusals.ts';

/** A cumulative receipt of a device's frequent messages comes no oftener than this. */
export const CUMULATIVE_RECEIPT_MS = 5000;

/** On an external broker names are anybody's; a receipt too early harms nobody. */
const DEVICES_REMEMBERED_MAX = 50_000;

export interface ReceiptMessage {
  readonly topic: string;
  readonly payload: string;
}

export class Receipts {
  readonly #plant: string;
  readonly #lastCumulative = new Map<string, Instant>();

  constructor(plant: string) {
    this.#plant = plant;
  }

  /** undefined where nothing need be said (yet). */
  of(taken: Taken, stored: Stored | undefined, at: Instant): ReceiptMessage | undefined {
    const receipt = this.#receipt(taken, stored, at);
    if (receipt === undefined) return undefined;
    const position = receipt.journal ?? 0;
    const envelope = {
      specversion: '1.0',
      id: `receipt-${position}-${receipt.for ?? receipt.throughSequence ?? 'unread'}`,
      source: `/plant/${this.#plant}/service`,
      type: RECEIPT_TYPE,
      subject: deviceSource(this.#plant, taken.device),
      time: rfc3339Of(at),
      datacontenttype: 'application/json',
      data: receipt,
    };
    return { topic: backTopic(this.#plant, taken.device, 'receipt'), payload: JSON.stringify(envelope) };
  }

  /** Of one alone, for whoever waits for it: also of what comes often. */
  receiptOf({ channel, messageId, remarks, problem }: Taken, stored: Stored | undefined): Receipt {
    const about = { ...(messageId === undefined ? {} : { for: messageId }), channel };
    if (problem !== undefined) return { ...about, outcome: 'rejected', ...journalOf(stored), problem };
    if (stored === undefined) return { ...about, outcome: 'duplicate' };
    if (stored.kind === 'duplicate') {
      if (stored.sameContent) return { ...about, outcome: 'duplicate', ...journalOf(stored) };
      return { ...about, outcome: 'rejected', ...journalOf(stored), problem: idAlreadyUsed(messageId) };
    }
    if (remarks.length > 0)
      return { ...about, outcome: 'kept-with-remarks', ...journalOf(stored), remarks: [...remarks] };
    return { ...about, outcome: 'kept', ...journalOf(stored) };
  }

  #receipt(taken: Taken, stored: Stored | undefined, at: Instant): Receipt | undefined {
    const { device, channel, problem } = taken;
    if (device === 'unknown') return undefined;
    // First and without a copy of anything: nearly all messages end here, with nothing to be said yet.
    if (problem === undefined && isFrequent(channel as InChannel)) return this.#cumulative(taken, stored, at);
    return this.receiptOf(taken, stored);
  }

  #cumulative(
    { device, channel, sequence, remarks }: Taken,
    stored: Stored | undefined,
    at: Instant,
  ): Receipt | undefined {
    const last = this.#lastCumulative.get(device);
    if (last !== undefined && at - last < CUMULATIVE_RECEIPT_MS) return undefined;
    if (this.#lastCumulative.size >= DEVICES_REMEMBERED_MAX) this.#lastCumulative.clear();
    this.#lastCumulative.set(device, at);
    return {
      channel,
      outcome: remarks.length > 0 ? 'kept-with-remarks' : 'kept',
      ...journalOf(stored),
      ...(sequence === undefined ? {} : { throughSequence: String(sequence) }),
      ...(remarks.length > 0 ? { remarks: [...remarks] } : {}),
    };
  }
}

function journalOf(stored: Stored | undefined): { journal?: number } {
  return stored?.position === undefined ? {} : { journal: stored.position };
}
