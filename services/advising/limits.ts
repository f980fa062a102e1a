// Every limit of the advising under its name.

export interface AdvisingLimits {
  /** Questions that wait or are being answered; beyond it the answer is at once that there is no advice now. */
  readonly questionsMax: number;
  /** The same for a page that asks: the rest of the room is for benches. */
  readonly pageQuestionsMax: number;
  /** One question that takes longer is given up, and the thread is started anew. */
  readonly stuckMs: number;
  /** Proofs that wait or are under way; beyond it a first answer stays what it is, and says so. */
  readonly proofsMax: number;
  /** A proof that takes longer is given up. */
  readonly proofMs: number;
}

export const ADVISING_LIMITS: AdvisingLimits = {
  questionsMax: 64,
  pageQuestionsMax: 32,
  stuckMs: 10_000,
  proofsMax: 8,
  proofMs: 60_000,
};
