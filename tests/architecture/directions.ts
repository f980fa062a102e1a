// Who may import whom, and that a part is entered through its face only.
import type { Checkout } from './checkout.ts';
import { allImports, type Import } from './imports.ts';

/** A part to the parts that it may import. DEVELOPERS.md shows the same table to people. */
export const MAY_IMPORT: Readonly<Record<string, readonly string[] | 'everything'>> = {
  shared: [],
  'services/rules': ['shared'],
  'services/journal': ['shared'],
  'services/packing': ['shared'],
  'services/intake': ['shared', 'services/journal'],
  'services/holds': ['shared', 'services/rules', 'services/journal'],
  'services/plant': ['shared', 'services/rules', 'services/journal', 'services/intake', 'services/holds'],
  'services/trends': ['shared', 'services/journal'],
  'services/try-out': ['shared', 'services/rules', 'services/journal'],
  'services/verifying': ['shared', 'services/journal'],
  'services/advising': ['shared'],
  'services/limit-files': ['shared'],
  'services/analysis': ['shared', 'services/packing'],
  'services/recording': [
    'shared',
    'services/packing',
    'services/rules',
    'services/journal',
    'services/intake',
    'services/holds',
    'services/plant',
  ],
  'services/broker': ['shared'],
  'services/certificates': ['shared'],
  'services/group': ['shared'],
  'services/relay': ['shared'],
  'services/access': ['shared'],
  'services/alerts': ['shared'],
  'services/gateway': [
    'shared',
    'services/access',
    'services/plant',
    'services/trends',
    'services/limit-files',
    'services/group',
  ],
  'services/settings.ts': ['shared'],
  'services/main.ts': 'everything',
  'services/alerting.ts': 'everything',
  'services/analysing.ts': 'everything',
  'services/answering.ts': 'everything',
  'services/data-dir.ts': 'everything',
  'services/gateway-settings.ts': 'everything',
  'services/https.ts': 'everything',
  'services/link.ts': 'everything',
  'services/readiness.ts': 'everything',
  'services/plant-port.ts': 'everything',
  'services/try-out-port.ts': 'everything',
  'services/history-threads.ts': 'everything',
  'services/announcements.ts': 'everything',
  'services/metrics.ts': 'everything',
  'services/service.ts': 'everything',
  'services/stores.ts': 'everything',
  'services/version.ts': [],
  'services/commands': 'everything',
  dashboard: ['shared'],
  simulators: ['shared'],
  tests: 'everything',
};

/** Packages that the pure and the browser's parts may use; the others may use any that package.json names. */
const MAY_USE: Readonly<Record<string, readonly string[]>> = {
  shared: ['zod'],
  'services/rules': [],
  dashboard: ['lit', '@lit/context', 'uplot', 'uqr', 'vite'],
};

/** Runs in Node, while the dashboard is bundled. */
const BUNDLES = /(?:^|\/)vite\.[a-z]+\.ts$/;

/** The part that a file belongs to: a folder under services/, a file directly in services/, or a top-level folder. */
export function partOf(path: string): string {
  const [top = '', second = ''] = path.split('/');
  return top === 'services' ? `${top}/${second}` : top;
}

/** Files that other parts may import: a part's index.ts, and in shared/ each file that stands directly in it. */
function isFace(path: string): boolean {
  const levels = path.split('/');
  if (levels[0] === 'shared') return levels.length === 2 || (levels.length === 3 && levels[2] === 'index.ts');
  return path === `${partOf(path)}/index.ts` || path === partOf(path);
}

/** The folder whose insides a file may reach: its own part, its own folder in shared/, or what a test mirrors. */
function mayReachInside(from: string, to: string): boolean {
  if (from.startsWith('tests/')) {
    return to.startsWith('tests/') || partOf(from.slice('tests/'.length)) === partOf(to);
  }
  if (from.startsWith('shared/') && to.startsWith('shared/')) return from.split('/')[1] === to.split('/')[1];
  return partOf(from) === partOf(to);
}

export function wrongDirections(checkout: Checkout): readonly string[] {
  return allImports(checkout).flatMap((one) => (one.relative ? wrongRelative(one) : wrongPackage(one)));
}

function wrongRelative({ from, to, built }: Import): readonly string[] {
  if (built && from.startsWith('tests/')) return [];
  const [own, other] = [partOf(from), partOf(to)];
  const allowed = MAY_IMPORT[own];
  if (allowed === undefined) return isTopLevelFile(from) ? [] : [`${from}: ${own} is not in the table of parts`];
  if (own !== other && allowed !== 'everything' && !allowed.includes(other)) {
    return [
      `${from}: ${own} may not import ${other} (${to}); the table in tests/architecture/directions.ts says what it may`,
    ];
  }
  if (!isFace(to) && !mayReachInside(from, to)) return [`${from}: reach ${to} through the index.ts of its part`];
  return [];
}

function isTopLevelFile(path: string): boolean {
  return !path.includes('/');
}

function wrongPackage({ from, to }: Import): readonly string[] {
  const allowed = MAY_USE[partOf(from)];
  if (allowed === undefined || BUNDLES.test(from)) return [];
  const name = to
    .split('/')
    .slice(0, to.startsWith('@') ? 2 : 1)
    .join('/');
  return allowed.includes(name) ? [] : [`${from}: ${partOf(from)} may not use ${to}`];
}
