// The words around an answer at the gate; the word itself is the rules' and never says more than it can.
import type { GateAnswer, GateWord } from '../../shared/gate.ts';
import type { Standing } from '../../shared/views.ts';

/** Each word has the mark of what it means elsewhere. */
export const GATE_MARKS: Readonly<Record<GateWord, Standing>> = {
  'NO OBJECTION': 'in-family',
  'HOLD BACK': 'hold',
  'MEASURE FIRST': 'watch',
};

export const GOVERNED_BY_WORDS: Readonly<Record<NonNullable<GateAnswer['governedBy']>, string>> = {
  'marked-maximum': 'lowest marked maximum of its parts',
  balance: 'its balance at its grade',
  'spindle-maximum': 'the maximum of the spindle',
};

export const ASK_THE_TOOL_ROOM = 'Ask the tool room';
