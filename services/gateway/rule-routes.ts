// What people tune: shown with its history, read from text with every fault, and put in force with a reason.
import { createHash } from 'node:crypto';
import { LIMIT_MM_S_MAX, SpindleDeclared } from '../../shared/acts.ts';
import { say } from '../../shared/language/index.ts';
import { limitsAfter } from '../../shared/limit-tries.ts';
import { MAY_DECLARE_RULES } from '../../shared/rights.ts';
import type { RuleSet } from '../../shared/rule-settings.ts';
import { ruleChanges } from '../../shared/rule-words.ts';
import {
  DraftInForce,
  RULE_FILE_CHARACTERS_MAX,
  RulesRead,
  RulesText,
  RulesView,
  type TryFacts,
} from '../../shared/try-out.ts';
import { amountWords } from '../../shared/wording.ts';
import { readRuleFile } from '../limit-files/index.ts';
import { actAs } from './act.ts';
import { answers } from './answers.ts';
import { SIGNED_IN, type App, type Parts } from './app.ts';
import { personOf } from './guard.ts';
import type { PlantPort } from './ports.ts';
import { HttpProblem } from './problems.ts';

export function addRuleRoutes(app: App, { plant }: Pick<Parts, 'plant'>): void {
  app.get(
    '/api/rules',
    { config: { who: SIGNED_IN }, schema: { tags: ['try-out'], response: answers(RulesView) } },
    () => viewOf(plant),
  );
  app.post(
    '/api/rules/read',
    {
      // JSON writes some characters with more than one byte.
      bodyLimit: 6 * RULE_FILE_CHARACTERS_MAX,
      config: { who: MAY_DECLARE_RULES },
      schema: { tags: ['try-out'], body: RulesText, response: answers(RulesRead) },
    },
    async ({ body }): Promise<RulesRead> => {
      const read = readRuleFile(body.text);
      if (read.kind === 'faults') return { faults: [...read.faults], adds: [], removes: [] };
      const { adds, removes } = ruleChanges((await plant.rules()).sets.at(-1)?.rules, read.rules);
      return { faults: [], rules: read.rules, adds: [...adds], removes: [...removes] };
    },
  );
  app.post(
    '/api/rules',
    {
      config: { who: MAY_DECLARE_RULES },
      schema: { tags: ['try-out'], body: DraftInForce, response: answers(RulesView) },
    },
    async (request) => {
      const { rules, limits, why } = request.body;
      const person = personOf(request);
      if (rules === undefined && limits.length === 0)
        throw new HttpProblem('not-valid', { errors: [{ pointer: '/rules', want: say`rules or limits`, got: '' }] });
      if (rules !== undefined) expectOwnNumber(await plant.rules(), rules);
      for (const declared of await declarationsOf(plant, request.body))
        await actAs(plant, person, 'spindle-declared', declared);
      if (rules !== undefined) await actAs(plant, person, 'rules-declared', { rules, why });
      return viewOf(plant);
    },
  );
}

/** A number stands for one content, so that it can be said which set was in force; the same content may come again. */
function expectOwnNumber({ sets }: RulesView, rules: RuleSet): void {
  const before = sets.find((set) => set.rules.version === rules.version);
  if (before === undefined || JSON.stringify(before.rules) === JSON.stringify(rules)) return;
  const free = Math.max(...sets.map((set) => set.rules.version)) + 1;
  const want = say`a version of its own, such as ${free}: ${rules.version} is "${before.rules.name}"`;
  throw new HttpProblem('not-valid', { errors: [{ pointer: '/rules/version', want, got: String(rules.version) }] });
}

/** Stands for all limits that are declared, whoever declared them. */
function limitsStamp({ subjects }: TryFacts): string {
  const limits = subjects.map(({ spindleId, limits: own }) => ({ spindleId, own }));
  return createHash('sha256').update(JSON.stringify(limits)).digest('base64url');
}

async function viewOf(plant: PlantPort): Promise<RulesView> {
  const [rules, facts] = await Promise.all([plant.rules(), plant.tryFacts(0)]);
  return { ...rules, limitsNow: limitsStamp(facts) };
}

/**
 * Each spindle that a change names, as it is declared but for these limits; all of them can be put on record, or none is. "Times what is
 * declared" means what its author saw: sent twice, or from a page that is behind, it would multiply again.
 */
async function declarationsOf(
  plant: PlantPort,
  { limits: tries, limitsNow, why }: DraftInForce,
): Promise<readonly SpindleDeclared[]> {
  if (tries.length === 0) return [];
  const facts = await plant.tryFacts(0);
  if (limitsNow !== limitsStamp(facts)) throw new HttpProblem('not-accepted', { detail: OTHERS_DECLARED });
  const changed = facts.subjects.filter(
    (subject) => tries.reduce((limits, one) => limitsAfter(limits, subject, one), subject.limits) !== subject.limits,
  );
  if (changed.length === 0)
    throw new HttpProblem('not-accepted', { detail: say`No spindle has other limits by that.` });
  const declarations: SpindleDeclared[] = [];
  for (const { spindleId } of changed) {
    const declared = (await plant.spindle(spindleId))?.declared;
    if (declared === undefined)
      throw new HttpProblem('not-accepted', { detail: say`${spindleId} is not declared: nothing was changed.` });
    const before = SpindleDeclared.parse(declared);
    const named = { spindleId, machine: before.machine, cell: before.cell };
    const limits = tries.reduce<SpindleDeclared['limits']>(
      (after, one) => [...limitsAfter(after, named, one)],
      before.limits,
    );
    declarations.push(checked({ ...before, limits, why }));
  }
  return declarations;
}

const OTHERS_DECLARED = say`Limits were declared since this draft was made, perhaps by this draft itself: nothing was changed. Open the page again, and look what it makes of them.`;

function checked(declaration: SpindleDeclared): SpindleDeclared {
  const read = SpindleDeclared.safeParse(declaration);
  if (read.success) return read.data;
  const beyond = declaration.limits.find(({ limitMmS }) => !(limitMmS > 0 && limitMmS <= LIMIT_MM_S_MAX));
  const { spindleId } = declaration;
  const detail =
    beyond === undefined
      ? say`The limits of ${spindleId} cannot be put on record so: nothing was changed.`
      : say`${spindleId} would have a limit of ${amountWords(beyond.limitMmS)} mm/s; expected above 0, at most ${LIMIT_MM_S_MAX}: nothing was changed.`;
  throw new HttpProblem('not-accepted', { detail });
}
