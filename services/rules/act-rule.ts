// People's acts on holds: who may, in which state, and what they lead to. Refused acts are on record with the reason.
import type { ActEntry } from '../../shared/entries.ts';
import { ACTS_IN_STATE, awaitedSince, isOpen, type Hold, type HoldState } from '../../shared/holds.ts';
import { say } from '../../shared/language/index.ts';
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
    outcomes.add({ cause: entry.position, kind: 'act-refused', holdId, act, why: why ?? say`there is no such hold` });
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
  if (hold === undefined) return say`there is no such hold`;
  if (!isOpen(hold)) return say`the hold has ended already: ${HOLD_STATE_WORDS[hold.state]}`;
  if (!ACTS_IN_STATE[hold.state].includes(data.act)) {
    return say`${WORDS[data.act]} is not possible once it is ${HOLD_STATE_WORDS[hold.state]}; record a check of your own to go on with it`;
  }
  const allowed: readonly string[] = MAY_ACT[data.act];
  if (!actor.roles.some((role) => allowed.includes(role))) {
    return say`${WORDS[data.act]} needs one of the roles ${allowed.join(', ')}`;
  }
  switch (data.act) {
    case 'take':
    case 'check':
    case 'void':
      return undefined;
    case 'release':
      if (awaitedSince(hold, 'verification-run') !== undefined)
        return say`maintenance has released it already; a run of an assembly of known balance ends it, or an engineer lets it go on as a deviation`;
      return releasableByPerson(layer, hold)
        ? undefined
        : say`none of its conditions has come about; an engineer may let it go on as a deviation, with a reason`;
    case 'confirm':
      return refusedSecond(hold, actor.name);
    case 'deviate':
      // Balance, habit and haste have no say here: the marks on the parts always govern.
      return hold.reason === 'speed-above-marked'
        ? say`the lowest marked maximum of its parts always governs; take it out, or void the hold if the mark was entered wrongly`
        : undefined;
  }
}

/** One person alone lets nothing go on where the plant asks for two. */
function refusedSecond(hold: Hold, name: string): string | undefined {
  const asked = awaitedSince(hold, 'second-name');
  if (asked === undefined) return say`nobody has asked for a deviation of this hold`;
  return asked.by === name ? say`another person than ${name} confirms it` : undefined;
}

const HOLD_STATE_WORDS: Record<HoldState, string> = {
  raised: say`raised`,
  taken: say`taken`,
  checked: say`checked`,
  released: say`released`,
  void: say`void`,
};

const WORDS: Record<HoldActName, string> = {
  take: say`taking a hold`,
  check: say`recording a check`,
  release: say`releasing a hold`,
  deviate: say`a deviation`,
  confirm: say`confirming a deviation`,
  void: say`voiding a hold`,
};
