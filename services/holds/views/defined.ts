// Leaves out what is not known: a view has no field where there is nothing to show.
export type Defined<T> = { [K in keyof T as undefined extends T[K] ? never : K]: T[K] } & {
  [K in keyof T as undefined extends T[K] ? K : never]?: Exclude<T[K], undefined>;
};

export function defined<T extends Record<string, unknown>>(fields: T): Defined<T> {
  const kept: Record<string, unknown> = {};
  for (const [name, value] of Object.entries(fields)) if (value !== undefined) kept[name] = value;
  return kept as Defined<T>;
}
