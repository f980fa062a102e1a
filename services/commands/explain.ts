// What a calculation answers, as tables for people or JSON for machines, and how it was reckoned: formula, numbers, source.

/** One step of the reckoning: the formula, the same with its numbers, what it comes to, and who says so. */
export interface Explanation {
  readonly what: string;
  readonly formula: string;
  readonly numbers: string;
  readonly result: string;
  readonly source: string;
}

export interface AnswerTable {
  readonly title?: string;
  readonly head?: readonly string[];
  readonly rows: readonly (readonly string[])[];
}

/** All that a calculation says. `values` are in the units of their names, whatever units are shown. */
export interface Answer {
  readonly sentence?: string;
  readonly tables: readonly AnswerTable[];
  readonly remarks: readonly string[];
  readonly explanations: readonly Explanation[];
  readonly cautions: readonly string[];
  readonly values: Readonly<Record<string, unknown>>;
}

const GAP = '  ';

/** The answer for people. */
export function answerText(answer: Answer, explain: boolean): string {
  const blocks = [
    ...(answer.sentence === undefined ? [] : [answer.sentence]),
    ...answer.tables.map(tableText),
    ...listText('Remarks', answer.remarks),
    ...(explain ? [explanationText(answer.explanations)] : []),
    ...listText('Cautions', answer.cautions),
  ];
  return `${blocks.join('\n\n')}\n`;
}

/** The answer for machines, in one line. */
export function answerJson({ sentence, values, remarks, explanations, cautions }: Answer, explain: boolean): string {
  return `${JSON.stringify({
    ...(sentence === undefined ? {} : { sentence }),
    ...values,
    remarks,
    ...(explain ? { explanations } : {}),
    cautions,
  })}\n`;
}

function tableText({ title, head, rows }: AnswerTable): string {
  const lines = head === undefined ? rows : [head, ...rows];
  const columns = Math.max(0, ...lines.map((cells) => cells.length));
  const widths = Array.from({ length: columns }, (_, at) =>
    Math.max(0, ...lines.map((cells) => (cells[at] ?? '').length)),
  );
  const texts = lines.map((cells) =>
    cells
      .map((cell, at) => cell.padEnd(widths[at] ?? 0))
      .join(GAP)
      .trimEnd(),
  );
  return [
    ...(title === undefined ? [] : [title]),
    ...texts.map((line) => (title === undefined ? line : GAP + line)),
  ].join('\n');
}

function listText(title: string, entries: readonly string[]): readonly string[] {
  return entries.length === 0 ? [] : [[title, ...entries.map((entry) => `${GAP}- ${entry}`)].join('\n')];
}

function explanationText(explanations: readonly Explanation[]): string {
  const steps = explanations.map(({ what, formula, numbers, result, source }) =>
    [
      `${GAP}${what}: ${formula}`,
      `${GAP}${GAP}= ${numbers}`,
      `${GAP}${GAP}= ${result}`,
      `${GAP}${GAP}source: ${source}`,
    ].join('\n'),
  );
  return ['How it was reckoned', ...steps].join('\n');
}
