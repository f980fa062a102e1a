// Prints a small table into the output of a test: what was found, beside what is asserted.

/** Rows of the same keys; numbers as they are. */
export function printed(title: string, rows: readonly Readonly<Record<string, string | number>>[]): void {
  const keys = Object.keys(rows[0] ?? {});
  const lines = [keys, ...rows.map((row) => keys.map((key) => String(row[key] ?? '')))];
  const widths = keys.map((_, column) => Math.max(...lines.map((line) => line[column]?.length ?? 0)));
  const text = lines.map((line) => line.map((cell, column) => cell.padEnd(widths[column] ?? 0)).join('  '));
  process.stdout.write(`\n${title}\n${text.join('\n')}\n`);
}
