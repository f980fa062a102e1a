// Source text without its comments, and without the contents of its strings, so that a check reads code only.

const PIECES = /\/\*[\s\S]*?\*\/|\/\/[^\n]*|'(?:[^'\\\n]|\\.)*'|"(?:[^"\\\n]|\\.)*"|`(?:[^`\\]|\\.)*`/g;

/** Comments go; strings stay. */
export function withoutComments(text: string): string {
  return text.replace(PIECES, (piece) => (piece.startsWith('/') ? '' : piece));
}

/** Comments go, and strings become empty. What a template literal computes goes with it. */
export function codeOnly(text: string): string {
  return text.replace(PIECES, (piece) => (piece.startsWith('/') ? '' : piece.slice(0, 1).repeat(2)));
}
