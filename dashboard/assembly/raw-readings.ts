// The index readings of a bench as they came, taken out of the journalled message; nothing where it sent results only. Pure.
export interface RawReading {
  readonly indexDeg: number;
  readonly planes: readonly { readonly amountGmm: number; readonly angleDeg: number }[];
}

/** Whatever is not as a result's message has it is left out: the record prints what is there. */
export function rawReadings(told: unknown): RawReading[] {
  const readings = fieldOf(fieldOf(fieldOf(told, 'entry'), 'data'), 'readings');
  if (!Array.isArray(readings)) return [];
  return readings.flatMap((reading: unknown) => {
    const indexDeg = fieldOf(reading, 'indexDeg');
    const planes = fieldOf(reading, 'planes');
    if (typeof indexDeg !== 'number' || !Array.isArray(planes)) return [];
    return [{ indexDeg, planes: planes.flatMap(planeOf) }];
  });
}

function planeOf(plane: unknown): { amountGmm: number; angleDeg: number }[] {
  const amountGmm = fieldOf(plane, 'amountGmm');
  const angleDeg = fieldOf(plane, 'angleDeg');
  return typeof amountGmm === 'number' && typeof angleDeg === 'number' ? [{ amountGmm, angleDeg }] : [];
}

/** Of a rotating or a standing frame the angles mean different things. */
export function rawFrame(told: unknown): string | undefined {
  const frame = fieldOf(fieldOf(fieldOf(told, 'entry'), 'data'), 'frame');
  return typeof frame === 'string' ? frame : undefined;
}

function fieldOf(value: unknown, name: string): unknown {
  return typeof value === 'object' && value !== null ? (value as Record<string, unknown>)[name] : undefined;
}
