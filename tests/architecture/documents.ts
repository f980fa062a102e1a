// The documents: every path they name exists, and the README says at once what the product is for.
import { dirname, join } from 'node:path/posix';
import type { Checkout } from './checkout.ts';

/** A path in a document is one that begins with something at the top level of the checkout. */
const TOP_LEVEL = ['services', 'shared', 'dashboard', 'simulators', 'tests', 'docs', '.ci'];
const TOP_LEVEL_FILES = ['README.md', 'DEVELOPERS.md', 'LICENSE', 'package.json', 'tsconfig.json', '.oxlintrc.json'];
const JOB_WORDS = ['bench', 'spindle', 'vibration', 'hold', 'MQTT'];

function isDocument(path: string): boolean {
  return path === 'README.md' || path === 'DEVELOPERS.md' || (path.startsWith('docs/') && path.endsWith('.md'));
}

export function missingPaths(checkout: Checkout): readonly string[] {
  return [...checkout.files]
    .filter(([path]) => isDocument(path))
    .flatMap(([path, text]) =>
      [...new Set([...linkedPaths(path, text), ...quotedPaths(text)])]
        .filter((named) => !checkout.exists(named))
        .map((named) => `${path}: names ${named}, which does not exist`),
    );
}

/** Targets of links, from the document's own folder; addresses on the network and headings are not paths. */
function linkedPaths(document: string, text: string): readonly string[] {
  const targets = [...text.matchAll(/\]\(([^)\s]+)(?:\s+"[^"]*")?\)/g)].map((match) => match[1] ?? '');
  return targets
    .filter((target) => !/^(?:[a-z]+:|#)/.test(target))
    .map((target) => join(dirname(document), target.replace(/#.*$/, '')));
}

/** Paths between backticks. Patterns and placeholders are left out. */
function quotedPaths(text: string): readonly string[] {
  const quoted = [...text.matchAll(/`([^`\n]+)`/g)].flatMap((match) => (match[1] ?? '').split(/\s+/));
  return quoted
    .map((word) =>
      word
        .replace(/^\.\//, '')
        .replace(/[.,;:]$/, '')
        .replace(/:\d+$/, ''),
    )
    .filter((word) => !/[*<>{}$…=()]/.test(word))
    .filter(
      (word) => TOP_LEVEL_FILES.includes(word) || (word.includes('/') && TOP_LEVEL.includes(word.split('/')[0] ?? '')),
    );
}

/** The first paragraph under the title has to name what the product relates and what it does about it. */
export function jobNotStated(checkout: Checkout): readonly string[] {
  const text = checkout.files.get('README.md');
  if (text === undefined) return ['README.md is missing'];
  const paragraph = text.split(/\n\s*\n/).find((block) => /^[A-Za-z*]/.test(block.trim())) ?? '';
  return JOB_WORDS.filter((word) => !new RegExp(`\\b${word}`, 'i').test(paragraph)).map(
    (word) => `README.md: the first paragraph does not say ${word}`,
  );
}
