// How far two directions lie apart.

/** 0 to 180. */
export function angleBetween(oneDeg: number, otherDeg: number): number {
  const off = Math.abs(oneDeg - otherDeg) % 360;
  return off > 180 ? 360 - off : off;
}
