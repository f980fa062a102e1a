// Who may do what to a hold; apart from the schemas, so that a browser learns it without a validator.
export const ROLES = ['viewer', 'operator', 'tool-room', 'maintenance', 'engineer', 'admin'] as const;
export type Role = (typeof ROLES)[number];

export const HOLD_ACTS = ['take', 'check', 'release', 'deviate', 'confirm', 'void'] as const;
export type HoldActName = (typeof HOLD_ACTS)[number];

/** Whoever loads assemblies or answers for them. */
export const MAY_ASK_GATE: readonly Role[] = ['operator', 'tool-room', 'maintenance', 'engineer', 'admin'];

/** The gateway refuses early, the rules refuse finally; the dashboard offers only what would not be refused. */
export const MAY_ACT: Record<HoldActName, readonly Role[]> = {
  take: ['tool-room', 'maintenance', 'engineer', 'admin'],
  check: ['tool-room', 'maintenance', 'engineer', 'admin'],
  release: ['maintenance', 'engineer'],
  deviate: ['engineer'],
  confirm: ['tool-room', 'maintenance', 'engineer', 'admin'],
  void: ['engineer'],
};

/** Whoever corrects assemblies writes down what was done. */
export const MAY_RECORD_CORRECTION: readonly Role[] = ['tool-room', 'engineer', 'admin'];

/** Whoever answers for the benches' results and for the plant's own reference figures. */
export const MAY_LIFT_DOUBT: readonly Role[] = ['engineer'];
export const MAY_DECLARE_REFERENCE: readonly Role[] = ['engineer'];
/** Whoever declares spindles, with their limits. */
export const MAY_DECLARE_SPINDLE: readonly Role[] = ['engineer'];

/** Whoever answers for what the rules ask before they hold, and may try out other limits. */
export const MAY_DECLARE_RULES: readonly Role[] = ['engineer'];

/** Whoever answers for what an hour of a spindle costs here. */
export const MAY_DECLARE_RATES: readonly Role[] = ['engineer', 'admin'];

/** Whoever knows when a spindle is worked on; and whoever says how holds are to be answered here. */
export const MAY_PLAN_WORK: readonly Role[] = ['maintenance', 'engineer'];
export const MAY_DECLARE_ANSWERING: readonly Role[] = ['engineer', 'admin'];

/** Whoever may do something about a hold may have its spindle looked at more closely. */
export const MAY_ASK_WAVE: readonly Role[] = ['tool-room', 'maintenance', 'engineer', 'admin'];
