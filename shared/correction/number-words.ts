// Numbers as a person at the machine reads them: as fine as they matter, without dust behind the point.

const plain = (value: number, digits: number): string => String(Number(value.toFixed(digits)));

/** Lengths to a hundredth: nobody drills finer. A finer step keeps its digits. */
export const mm = (value: number): string => `${plain(value, Math.abs(value) < 1 ? 3 : 2)} mm`;
export const deg = (value: number): string => `${plain(value, 2)}°`;
export const grams = (value: number): string => `${plain(value, 3)} g`;
export const diameter = (value: number): string => `Ø${plain(value, 2)}`;

/** Unbalance with three digits that count. */
export function gmm(value: number): string {
  if (value === 0 || Math.abs(value) < 0.0005) return '0 g·mm';
  const digits = Math.max(0, Math.min(3, 2 - Math.floor(Math.log10(Math.abs(value)))));
  return `${plain(value, digits)} g·mm`;
}

export function counted(count: number, one: string, many: string): string {
  return `${count === 1 ? 'one' : count} ${count === 1 ? one : many}`;
}
