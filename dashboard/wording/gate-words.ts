// The words around an answer at the gate; the word itself is the rules' and never says more than it can.
import { say } from '../../shared/language/index.ts';
import type { GateAnswer, GateWord } from '../../shared/gate.ts';
import type { Standing } from '../../shared/views.ts';

/** Each word has the mark of what it means elsewhere. */
export const GATE_MARKS: Readonly<Record<GateWord, Standing>> = {
  'NO OBJECTION': 'in-family',
  'HOLD BACK': 'hold',
  'MEASURE FIRST': 'watch',
};

/** Each word as it is read; code goes by the word itself. */
export const GATE_SAID: Readonly<Record<GateWord, string>> = {
  'NO OBJECTION': say`NO OBJECTION`,
  'HOLD BACK': say`HOLD BACK`,
  'MEASURE FIRST': say`MEASURE FIRST`,
};

export const GOVERNED_BY_WORDS: Readonly<Record<NonNullable<GateAnswer['governedBy']>, string>> = {
  'marked-maximum': say`lowest marked maximum of its parts`,
  balance: say`its balance at its grade`,
  'spindle-maximum': say`the maximum of the spindle`,
};

export const ASK_THE_TOOL_ROOM = say`Ask the tool room`;
