// Names above a picture, in lanes over one another so that none lies on another; those without room are left to the table. Pure.
export interface Named {
  readonly atPx: number;
  readonly word: string;
}

export interface Laned<T> {
  readonly of: T;
  /** 0 stands next to the picture; undefined: no room in any lane. */
  readonly lane: number | undefined;
  /** Where its word begins, moved inwards at the right edge. */
  readonly startPx: number;
}

/** Earlier ones are given room first: the caller puts the more important in front. */
export function inLanes<T extends Named>(
  marks: readonly T[],
  room: { readonly lanes: number; readonly characterPx: number; readonly gapPx: number; readonly endPx: number },
): Laned<T>[] {
  const taken: { from: number; to: number }[][] = Array.from({ length: room.lanes }, () => []);
  return marks.map((of) => {
    const wide = of.word.length * room.characterPx;
    const startPx = Math.max(0, Math.min(of.atPx, room.endPx - wide));
    const from = startPx - room.gapPx;
    const to = startPx + wide + room.gapPx;
    const lane = taken.findIndex((lanes) => lanes.every((other) => other.to <= from || other.from >= to));
    if (lane < 0) return { of, lane: undefined, startPx };
    taken[lane]?.push({ from, to });
    return { of, lane, startPx };
  });
}
