// What a bearing may be, in numbers: held by its schema, and by whatever reads one without a schema.

/** A spindle has no more. Beyond it a declaration is refused. */
export const BEARINGS_PER_SPINDLE_MAX = 8;

/** From the smallest instrument bearing to a slewing ring: what lies outside was mistyped. Own choice, no source. */
export const BEARING_GEOMETRY = {
  elements: { min: 3, max: 200 },
  elementDiameterMm: { min: 0.1, max: 1000 },
  pitchDiameterMm: { min: 1, max: 5000 },
  contactAngleDeg: { min: 0, max: 89 },
} as const;

export const BEARING_NAME_CHARACTERS_MAX = 60;
