// A rule set as it is declared: checked against its bounds, with words for what is wrong.
import * as z from 'zod';
import { say } from './language/index.ts';
import {
  ROWS_PER_RULE_SET_MAX,
  RULE_SETTINGS,
  SCOPE_KEYS,
  SETTING_BOUNDS,
  type RuleSettingName,
  type ScopeKey,
} from './rule-settings.ts';

function bounded(name: RuleSettingName): z.ZodOptional<z.ZodNumber> {
  const { least, most, whole, words } = SETTING_BOUNDS[name];
  const number = whole ? z.int() : z.number();
  return number.min(least).max(most).optional().meta({ description: words });
}

const Name = z.string().trim().min(1).max(80);

const settings = Object.fromEntries(RULE_SETTINGS.map((name) => [name, bounded(name)])) as Record<
  RuleSettingName,
  z.ZodOptional<z.ZodNumber>
>;
const scope = Object.fromEntries(SCOPE_KEYS.map((key) => [key, Name.optional()])) as Record<
  ScopeKey,
  z.ZodOptional<typeof Name>
>;

export const RuleRowSchema = z.strictObject({
  scope: z.strictObject(scope).describe('names, * for any characters; none of them: the whole plant'),
  settings: z.strictObject(settings).refine((given) => RULE_SETTINGS.some((name) => given[name] !== undefined), {
    error: say`expected ${say`at least one of ${RULE_SETTINGS.join(', ')}`}`,
  }),
});

export const RuleSetSchema = z.strictObject({
  version: z.int().min(1).max(1_000_000),
  name: Name,
  author: Name,
  note: z.string().trim().max(1000).default(''),
  rows: z.array(RuleRowSchema).max(ROWS_PER_RULE_SET_MAX).default([]),
});

const Note = z
  .string()
  .trim()
  .min(1, say`expected ${say`a reason in words`}`)
  .max(1000);

/** A rule set put in force, from its place in the journal on; the one before is put in force again the same way. */
export const RulesDeclared = z.object({ rules: RuleSetSchema, why: Note });
export type RulesDeclared = z.infer<typeof RulesDeclared>;
