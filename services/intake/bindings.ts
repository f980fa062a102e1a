// Which device is what, and which spindles it serves. Only a credential refuses anything; where there is none, as in a
// rehearsal, a birth message fills in what a reading leaves out.
import type { DeviceKind } from '../../shared/ids.ts';
import { CHANNELS_OF_KIND } from '../../shared/messages/index.ts';
import type { Problem } from '../../shared/problem.ts';
import { IN_CHANNELS, type InChannel } from '../../shared/topics.ts';
import { refusal, shown } from './refusals.ts';

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
      { pointer: '', want: `${CHANNELS_OF_KIND[kind].join(', ')} of a ${kind}`, got: channel },
    ]);
  }

  /** What the device said came on no channel that there is. */
  unknownChannel(device: string, channel: string): Problem {
    const kind = this.#enrolled.get(device)?.kind;
    const channels = kind === undefined ? IN_CHANNELS : CHANNELS_OF_KIND[kind];
    const want = channels.length === 0 ? `nothing: a ${kind} only reads` : channels.join(', ');
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
        want: enrolled.join(', ') || 'no spindle: it serves none',
        got: shown(named),
      };
      return { problem: refusal('not-served', [fault]) };
    }
    const [only] = serves;
    if (serves.length === 1 && only !== undefined && only !== '*') return { id: only };
    const fault = {
      pointer: '/data/spindleId',
      want: serves.length === 0 ? 'a spindle id' : serves.join(', '),
      got: 'nothing',
    };
    return { problem: refusal('which-spindle', [fault]) };
  }
}
