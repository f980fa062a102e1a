// JSON of which there is only one way to write it: names in order, no spaces. RFC 8785 (JSON Canonicalization Scheme).

/**
 * What `JSON.stringify` would keep of a value, members sorted by their names' UTF-16 code units. Numbers are written as ECMAScript
 * writes them, which is what RFC 8785 section 3.2.2.3 asks for. Plain data only: nothing with a `toJSON` of its own.
 */
export function canonicalJson(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(canonicalJson).join(',')}]`;
  if (typeof value !== 'object' || value === null) return JSON.stringify(value ?? null);
  const members: string[] = [];
  for (const name of Object.keys(value).toSorted(byCodeUnits)) {
    const member: unknown = Reflect.get(value, name);
    if (member !== undefined) members.push(`${JSON.stringify(name)}:${canonicalJson(member)}`);
  }
  return `{${members.join(',')}}`;
}

function byCodeUnits(one: string, other: string): number {
  return one < other ? -1 : 1;
}
