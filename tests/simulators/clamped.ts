// Follows what is clamped where by the load messages, and says what cannot have been.
import type { Load } from '../../shared/messages/index.ts';
import type { TimedMessage } from '../../simulators/index.ts';

export class Clamped {
  readonly bySpindle = new Map<string, string>();
  readonly #measured = new Set<string>();

  /** Everything in these messages that contradicts what was before; empty when all fits. */
  follow(messages: Iterable<TimedMessage>): string[] {
    return [...messages].flatMap((message) => this.#take(message));
  }

  #take({ topic, envelope }: TimedMessage): string[] {
    if (topic.endsWith('/result')) this.#measured.add((envelope.data as { buildId: string }).buildId);
    if (!topic.endsWith('/load')) return [];
    const { spindleId, action, assemblyId = 'nothing', buildId } = envelope.data as Load;
    const place = `${assemblyId} (${buildId}) at ${spindleId}, ${envelope.time}`;
    const inside = this.bySpindle.get(spindleId);
    if (action === 'unload') {
      this.bySpindle.delete(spindleId);
      return inside === assemblyId ? [] : [`${place}: taken out, but ${inside} was in`];
    }
    const elsewhere = [...this.bySpindle.values()].includes(assemblyId);
    this.bySpindle.set(spindleId, assemblyId);
    return [
      ...(inside === undefined ? [] : [`${place}: clamped, but ${inside} was in`]),
      ...(elsewhere ? [`${place}: clamped, but it is in another spindle`] : []),
      ...(this.#measured.has(String(buildId)) || isUnmeasuredOnPurpose(buildId) ? [] : [`${place}: never measured`]),
    ];
  }
}

/** Builds of the scene in which a cutter is changed at the machine. */
function isUnmeasuredOnPurpose(buildId: string | undefined): boolean {
  return /-[CS][0-9a-z]+$/.test(buildId ?? '');
}

export function clampedBy(messages: Iterable<TimedMessage>): Clamped {
  const clamped = new Clamped();
  clamped.follow(messages);
  return clamped;
}
