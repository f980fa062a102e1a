// On which line of a YAML file a field stands: where its name does, whatever its value goes on to.
import { isMap, isNode, isScalar, isSeq, type LineCounter } from 'yaml';

/** Within a node, by names and places in lists; of the nearest that holds it where it is missing. 0 where there is none. */
export function lineWithin(lines: LineCounter, within: unknown, path: readonly PropertyKey[]): number {
  let node = within;
  let line = lineOf(lines, node);
  for (const name of path) {
    if (isMap(node)) {
      const pair = node.items.find(({ key }) => isScalar(key) && String(key.value) === String(name));
      if (pair === undefined) return line;
      line = lineOf(lines, pair.key);
      node = pair.value;
    } else if (isSeq(node)) {
      node = node.items[Number(name)];
      line = isNode(node) ? lineOf(lines, node) : line;
    } else return line;
  }
  return line;
}

export function lineOf(lines: LineCounter, node: unknown): number {
  const range = isNode(node) ? node.range : undefined;
  return range === undefined || range === null ? 0 : lines.linePos(range[0]).line;
}
