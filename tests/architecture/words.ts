// Words that have no place in this project: the wrong word of the trade, promises nobody can keep, and talk of how
// the project came about instead of what it does.
import type { Checkout } from './checkout.ts';

const BANNED: readonly { readonly pattern: RegExp; readonly instead: string }[] = [
  { pattern: /\bimbalance/i, instead: 'the trade says unbalance' },
  {
    pattern: /\bsafe to (?:run|use|operate|spin|start|load|enter|touch)\b/i,
    instead: 'say what was measured, and leave the judgement to the makers’ limits and to qualified people',
  },
  { pattern: /\b(?:guarantees?|ensures?) safety\b/i, instead: 'it does not; say what it does' },
  { pattern: /shared\/brief|\bbrief sheet|\/tmp\/helper|\bseed document/i, instead: 'name a file of this project' },
  {
    pattern: /\b(?:claude|anthropic|chatgpt|openai|copilot|LLM)\b|\bAI[- ](?:generated|written|assisted)\b/,
    instead: 'speak of the product',
  },
  { pattern: /\bpublic (?:code|docs)\b/i, instead: 'name the published source' },
];

/** This file has to spell out what it looks for, and its test plants it. */
const EXEMPT = ['tests/architecture/words.ts', 'tests/architecture.test.ts'];

export function bannedWords(checkout: Checkout): readonly string[] {
  return [...checkout.files]
    .filter(([path]) => !EXEMPT.includes(path))
    .flatMap(([path, text]) =>
      BANNED.flatMap(({ pattern, instead }) => {
        const match = pattern.exec(text);
        if (match === null) return [];
        const line = text.slice(0, match.index).split('\n').length;
        return [`${path}:${line}: “${match[0]}”: ${instead}`];
      }),
    );
}
