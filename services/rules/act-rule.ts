// People's acts on holds: who may, in which state, and what they lead to. Refused acts are on record with the reason.
import type { ActEntry } from '../../shared/entries.ts';
import { ACTS_IN_STATE, awaitedSince, isOpen, type Hold } from '../../shared/holds.ts';
import { MAY_ACT, type HoldActName } from '../../shared/rights.ts';
import { answeringOf } from './escalation-rule.ts';
import type { Layer } from './layer.ts';
import type { Outcomes } from './raising.ts';
import { asksForRun, releasableByPerson } from './release.ts';

type HoldActEntry = Extract<ActEntry, { kind: 'hold-act' }>;

export function actRule(outcomes: Outcomes, entry: HoldActEntry): void {
  const { layer } = outcomes;
  const { holdId, act, note, found } = entry.data;
  const hold = layer.hold(holdId);
  const why = refusal(layer, hold, entry);
  if (why !== undefined || hold === undefined) {
    outcomes.add({ cause: entry.position, kind: 'act-refused', holdId, act, why: why ?? 'there is no such hold' });
    return;
  }
  const by = entry.actor.name;
  const said = {
    ...(note === undefined || note === '' ? {} : { note }),
    ...(found === undefined ? {} : { found }),
  };
  switch (act) {
    case 'take':
      outcomes.step(hold, { state: 'taken', by, ...said });
      return;
    case 'check':
      outcomes.step(hold, { state: 'checked', by, ...said });
      return;
    case 'release':
      outcomes.step(
        hold,
        asksForRun(hold)
          ? { state: 'checked', awaits: 'verification-run', by, ...said }
          : { state: 'released', by, ...said },
      );
      return;
    case 'deviate':
      if (answeringOf(layer.floor).deviationNames === 1)
        outcomes.step(hold, { state: 'released', by, deviation: true, ...said });
      else
        outcomes.step(hold, {
          state: hold.state === 'raised' ? 'taken' : hold.state,
          awaits: 'second-name',
          by,
          ...said,
        });
      return;
    case 'confirm': {
      const asked = awaitedSince(hold, 'second-name');
      const words = [asked?.note, note].filter((text) => text !== undefined && text !== '').join('; ');
      outcomes.step(hold, {
        state: 'released',
        by,
        deviation: true,
        ...(asked === undefined ? {} : { askedBy: asked.by }),
        note: words,
      });
      return;
    }
    case 'void':
      outcomes.step(hold, { state: 'void', by, ...said });
  }
}

function refusal(layer: Layer, hold: Hold | undefined, { data, actor }: HoldActEntry): string | undefined {
  if (hold === undefined) return 'there is no such hold';
  if (!isOpen(hold)) return `the hold has ended already: ${hold.state}`;
  if (!ACTS_IN_STATE[hold.state].includes(data.act)) {
    return `${WORDS[data.act]} is not possible once it is ${hold.state}; record a check of your own to go on with it`;
  }
  const allowed: readonly string[] = MAY_ACT[data.act];
  if (!actor.roles.some((role) => allowed.includes(role))) {
    return `${WORDS[data.act]} needs one of the roles ${allowed.join(', ')}`;
  }
  switch (data.act) {
    case 'take':
    case 'check':
    case 'void':
      return undefined;
    case 'release':
      if (awaitedSince(hold, 'verification-run') !== undefined)
        return 'maintenance has released it already; a run of an assembly of known balance ends it, or an engineer lets it go on as a deviation';
      return releasableByPerson(layer, hold)
        ? undefined
        : 'none of its conditions has come about; an engineer may let it go on as a deviation, with a reason';
    case 'confirm':
      return refusedSecond(hold, actor.name);
    case 'deviate':
      // Balance, habit and haste have no say here: the marks on the parts always govern.
      return hold.reason === 'speed-above-marked'
        ? 'the lowest marked maximum of its parts always governs; take it out, or void the hold if the mark was entered wrongly'
        : undefined;
  }
}

/** One person alone lets nothing go on where the plant asks for two. */
function refusedSecond(hold: Hold, name: string): string | undefined {
  const asked = awaitedSince(hold, 'second-name');
  if (asked === undefined) return 'nobody has asked for a deviation of this hold';
  return asked.by === name ? `another person than ${name} confirms it` : undefined;
}

const WORDS: Record<HoldActName, string> = {
  take: 'taking a hold',
  check: 'recording a check',
  release: 'releasing a hold',
  deviate: 'a deviation',
  confirm: 'confirming a deviation',
  void: 'voiding a hold',
};
