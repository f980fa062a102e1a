// Turns what arrived into arrivals for the journal, or rejected bytes with a reason; and writes the receipts.
export { createIntake, lineRepeat, REJECTED_SOURCE, type Intake, type IntakeSettings } from './intake.ts';
export { arrivalsOf, type Delivered, type Taken } from './delivered.ts';
export type { Binding, Born } from './bindings.ts';
export { faultsOf, idAlreadyUsed, REFUSALS, type RefusalCode } from './refusals.ts';
export { readMessage, readParsed, type MessageRead } from './read-message.ts';
export { Receipts, CUMULATIVE_RECEIPT_MS, type ReceiptMessage } from './receipts.ts';
