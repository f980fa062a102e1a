// Every limit of the advising under its name.

export interface AdvisingLimits {
  /** Questions that wait or are being answered; beyond it the answer is at once that there is no advice now. */
  readonly questionsMax: number;
  /** One question that takes longer is given up, and the thread is started anew. */
  readonly stuckMs: number;
}

export const ADVISING_LIMITS: AdvisingLimits = { questionsMax: 64, stuckMs: 10_000 };
