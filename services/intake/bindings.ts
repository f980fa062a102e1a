// Which device is what, and which spindles it serves. Only a credential refuses anything; where there is none, as in a
// rehearsal, a birth message fills in what a reading leaves out.
import type { DeviceKind } from '../../shared/ids.ts';
import { say } from '../../shared/language/index.ts';
import { CHANNELS_OF_KIND } from '../../shared/messages/index.ts';
import type { Problem } from '../../shared/problem.ts';
import { IN_CHANNELS, type InChannel } from '../../shared/topics.ts';
import { NOTHING, refusal, shown } from './refusals.ts';

const CHANNELS_WORDS: Readonly<Record<DeviceKind, (channels: string) => string>> = {
  bench: (channels) => say`${channels} of a bench`,
  sensor: (channels) => say`${channels} of a sensor`,
  machine: (channels) => say`${channels} of a machine`,
  reader: (channels) => say`${channels} of a reader`,
};

export interface Binding {
  readonly kind?: DeviceKind;
  readonly serves: readonly string[];
}

export interface Born {
  readonly kind: DeviceKind;
  readonly serves?: readonly string[] | undefined;
}

export class Bindings {
  readonly #enrolled = new Map<string, Binding>();
  readonly #born = new Map<string, Binding>();

  /** A credential was made or changed; it overrules what a birth message says. */
  enrol(device: string, binding: Binding): void {
    this.#enrolled.set(device, binding);
  }

  /** A birth that leaves out what it serves changes nothing of that. */
  born(device: string, { kind, serves }: Born): void {
    this.#born.set(device, { kind, serves: serves ?? this.#born.get(device)?.serves ?? [] });
  }

  /** A device speaks on the channels of its kind only. */
  channelRefusal(device: string, channel: InChannel): Problem | undefined {
    const kind = this.#enrolled.get(device)?.kind;
    if (kind === undefined || CHANNELS_OF_KIND[kind].includes(channel)) return undefined;
    return refusal('not-of-this-kind', [
      { pointer: '', want: CHANNELS_WORDS[kind](CHANNELS_OF_KIND[kind].join(', ')), got: channel },
    ]);
  }

  /** What the device said came on no channel that there is. */
  unknownChannel(device: string, channel: string): Problem {
    const kind = this.#enrolled.get(device)?.kind;
    const channels = kind === undefined ? IN_CHANNELS : CHANNELS_OF_KIND[kind];
    const want = channels.length === 0 ? say`nothing: a reader only reads` : channels.join(', ');
    return refusal('unknown-channel', [{ pointer: '', want, got: channel }]);
  }

  /** The spindle a reading or a machine's message is about, or why it can't be told. */
  spindle(device: string, named: string | undefined): { readonly id: string } | { readonly problem: Problem } {
    const enrolled = this.#enrolled.get(device)?.serves;
    const serves = enrolled ?? this.#born.get(device)?.serves ?? [];
    if (named !== undefined) {
      if (enrolled === undefined || enrolled.includes(named) || enrolled.includes('*')) return { id: named };
      const fault = {
        pointer: '/data/spindleId',
        want: enrolled.join(', ') || say`no spindle: it serves none`,
        got: shown(named),
      };
      return { problem: refusal('not-served', [fault]) };
    }
    const [only] = serves;
    if (serves.length === 1 && only !== undefined && only !== '*') return { id: only };
    const fault = {
      pointer: '/data/spindleId',
      want: serves.length === 0 ? say`a spindle id` : serves.join(', '),
      got: NOTHING,
    };
    return { problem: refusal('which-spindle', [fault]) };
  }
}
