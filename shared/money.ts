// An amount of money as it is shown: never without what it was reckoned from.
import * as z from 'zod';

/** An amount with what it was reckoned from. */
export const MoneyView = z.object({ amount: z.number(), currency: z.string(), words: z.string() });
export type MoneyView = z.infer<typeof MoneyView>;
