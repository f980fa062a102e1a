// One schema as a Markdown table of its fields: name, what is possible, unit, whether it must be there, what it means.
import * as z from 'zod';
import { fieldsOf, formsOf } from './message-forms.ts';
import { ID_PATTERN } from '../../shared/ids.ts';

/** What of JSON Schema (draft 2020-12) our wire schemas use. */
export interface FieldSchema {
  readonly type?: 'number' | 'integer' | 'string' | 'array' | 'boolean' | 'object';
  readonly description?: string;
  readonly ucum?: string;
  readonly pattern?: string;
  readonly format?: string;
  readonly enum?: readonly string[];
  readonly const?: unknown;
  readonly default?: unknown;
  readonly minimum?: number;
  readonly maximum?: number;
  readonly minLength?: number;
  readonly maxLength?: number;
  readonly minItems?: number;
  readonly maxItems?: number;
  readonly contentEncoding?: string;
  readonly items?: FieldSchema | false;
  readonly prefixItems?: readonly FieldSchema[];
  readonly oneOf?: readonly FieldSchema[];
  readonly anyOf?: readonly FieldSchema[];
  readonly properties?: Readonly<Record<string, FieldSchema>>;
  readonly required?: readonly string[];
}

export function fieldTable(schema: z.ZodType): string {
  const json = z.toJSONSchema(schema, { io: 'input', unrepresentable: 'any', reused: 'inline' }) as FieldSchema;
  return ['| field | what may stand there | unit | must | meaning |', '|---|---|---|---|---|', ...rows(json, '')].join(
    '\n',
  );
}

function rows(schema: FieldSchema, prefix: string): string[] {
  return fieldsOf(schema).flatMap(({ name, field, isRequired, onlyWith }) => {
    const path = prefix + name;
    const must = isRequired ? 'yes' : '';
    const ucum = field.ucum ?? itemOf(field)?.ucum;
    const unit = ucum === undefined || ucum === '1' ? '' : `\`${ucum}\``;
    const means = [onlyWith, meaning(field)].filter((words) => words !== '').join(': ');
    const row = `| \`${path}\` | ${possible(field)} | ${unit} | ${must} | ${means} |`;
    return [row, ...below(field, path)];
  });
}

/** Fields of an object, or of each object in a list. */
function below(field: FieldSchema, path: string): string[] {
  if (isObject(field)) return rows(field, `${path}.`);
  const item = itemOf(field);
  return item === undefined || !isObject(item) ? [] : rows(item, `${path}[].`);
}

const isObject = (field: FieldSchema): boolean => field.properties !== undefined || formsOf(field) !== undefined;

/** What each item of a list is; of a tuple, whose items are alike here, the first. */
function itemOf({ items, prefixItems }: FieldSchema): FieldSchema | undefined {
  return prefixItems?.[0] ?? (items === false ? undefined : items);
}

/** What the second column has said already is not said again. */
function meaning({ description = '', pattern, format }: FieldSchema): string {
  const saysKind =
    (pattern === ID_PATTERN.source && description.startsWith('1 to 40 letters')) ||
    (format !== undefined && description.startsWith('RFC 3339'));
  return saysKind ? '' : description;
}

function possible(field: FieldSchema): string {
  const fixed = field.default === undefined ? '' : `; ${shown(field.default)} when left out`;
  return kindOf(field) + fixed;
}

function kindOf(field: FieldSchema): string {
  if (field.const !== undefined) return shown(field.const);
  if (field.enum !== undefined) return field.enum.map(shown).join(', ');
  switch (field.type) {
    case 'number':
    case 'integer':
      return `${field.type === 'integer' ? 'whole number' : 'number'}${range(field.minimum, field.maximum)}`;
    case 'string':
      return textKind(field);
    case 'array':
      return listKind(field);
    case 'boolean':
      return 'true, false';
    case 'object':
      return 'object';
    case undefined:
      break;
  }
  const forms = formsOf(field);
  return forms === undefined ? 'anything' : `object, told apart by \`${forms.by}\``;
}

function listKind(field: FieldSchema): string {
  const item = itemOf(field) ?? {};
  const each = isObject(item) && formsOf(item) === undefined ? '' : `, each: ${kindOf(item)}`;
  const { prefixItems } = field;
  if (prefixItems !== undefined) return `list of ${prefixItems.length}${each}`;
  return `list${lengths(field.minItems, field.maxItems, 'items')}${each}`;
}

function textKind(field: FieldSchema): string {
  if (field.pattern === ID_PATTERN.source) return 'id';
  if (field.format === 'date-time') return 'RFC 3339 time';
  const kind = field.contentEncoding === 'base64' ? 'base64' : 'text';
  return kind + lengths(field.minLength, field.maxLength, 'characters');
}

function shown(value: unknown): string {
  return typeof value === 'string' ? `"${value}"` : JSON.stringify(value);
}

/** The bounds that every JavaScript number has say nothing. */
function range(min?: number, max?: number): string {
  const from = min !== undefined && min > Number.MIN_SAFE_INTEGER ? min : undefined;
  const to = max !== undefined && max < Number.MAX_SAFE_INTEGER ? max : undefined;
  if (from !== undefined && to !== undefined) return ` ${text(from)} to ${text(to)}`;
  if (from !== undefined) return ` from ${text(from)}`;
  return to === undefined ? '' : ` up to ${text(to)}`;
}

function text(value: number): string {
  return value.toLocaleString('en', { maximumFractionDigits: 9 });
}

function lengths(min: number | undefined, max: number | undefined, what: string): string {
  if (max === undefined) return '';
  return min === undefined || min === 0 ? `, up to ${text(max)} ${what}` : `, ${text(min)} to ${text(max)} ${what}`;
}
