// Objects of several forms, told apart by one field: which fields all of them have, and which only some.
import type { FieldSchema } from './message-fields.ts';

export interface Field {
  readonly name: string;
  readonly field: FieldSchema;
  readonly isRequired: boolean;
  /** The forms that have it, in words; empty where all have it. */
  readonly onlyWith: string;
}

export interface Forms {
  /** The field that tells them apart. */
  readonly by: string;
  readonly forms: readonly { readonly name: string; readonly schema: FieldSchema }[];
}

/** Undefined where it is no union of objects with a field of another constant each. */
export function formsOf({ oneOf, anyOf }: FieldSchema): Forms | undefined {
  const options = oneOf ?? anyOf;
  const [first] = options ?? [];
  const by = Object.keys(first?.properties ?? {}).find((name) =>
    options?.every((option) => typeof option.properties?.[name]?.const === 'string'),
  );
  if (options === undefined || by === undefined) return undefined;
  return { by, forms: options.map((schema) => ({ name: String(schema.properties?.[by]?.const), schema })) };
}

/** Of an object, or of all its forms: each field once where it is the same in several. */
export function fieldsOf(schema: FieldSchema): readonly Field[] {
  const union = formsOf(schema);
  if (union === undefined) {
    return Object.entries(schema.properties ?? {}).map(([name, field]) => ({
      name,
      field,
      isRequired: schema.required?.includes(name) === true,
      onlyWith: '',
    }));
  }
  const { by, forms } = union;
  const told = { enum: forms.map(({ name }) => name), description: 'which of the forms it is' };
  return [{ name: by, field: told, isRequired: true, onlyWith: '' }, ...sharedFields(union)];
}

interface Shared {
  readonly name: string;
  readonly field: FieldSchema;
  readonly isRequired: boolean;
  readonly forms: string[];
}

function sharedFields({ by, forms }: Forms): readonly Field[] {
  const shared = new Map<string, Shared>();
  for (const form of forms) {
    for (const [name, field] of Object.entries(form.schema.properties ?? {})) {
      if (name === by) continue;
      const isRequired = form.schema.required?.includes(name) === true;
      const key = JSON.stringify([name, field, isRequired]);
      const known = shared.get(key) ?? { name, field, isRequired, forms: [] };
      known.forms.push(form.name);
      shared.set(key, known);
    }
  }
  return [...shared.values()].map(({ name, field, isRequired, forms: having }) => ({
    name,
    field,
    isRequired,
    onlyWith: having.length === forms.length ? '' : `with ${having.join(', ')}`,
  }));
}
