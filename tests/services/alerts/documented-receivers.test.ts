// The receivers that docs/alerts.md shows are run as they stand there: they take what is ours, once, and nothing else.
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { readOrMakeKey, type Alerts } from '../../../services/alerts/index.ts';
import { makeFolder, type Folder } from '../../environment/folder.ts';
import { freePort, LOOPBACK } from '../../environment/loopback.ts';
import { findProgram, startProgram, untilPrinted, type Program } from '../../environment/program.ts';
import { waitFor } from '../../environment/wait-for.ts';
import { makeBed, type Bed } from './bed.ts';
import { raisedHold } from './holds.ts';

const DOCUMENT = readFileSync(new URL('../../../docs/alerts.md', import.meta.url), 'utf8');
const SECRET = 'ab'.repeat(32);

let bed: Bed;
let folder: Folder;
let receiver: Program | undefined;
let alerts: Alerts | undefined;

beforeEach(() => {
  bed = makeBed();
  folder = makeFolder('receiver');
});
afterEach(async () => {
  await alerts?.close();
  await receiver?.stop();
  folder.remove();
  bed.remove();
});

function example(language: string): string {
  const found = [...DOCUMENT.matchAll(new RegExp(`\`\`\`${language}\\n([^]*?)\`\`\``, 'g'))];
  expect(found, `one ${language} example in docs/alerts.md`).toHaveLength(1);
  return found[0]?.[1] ?? '';
}

async function startExample(language: 'js' | 'python', keyFile: string): Promise<string> {
  const [program, file] =
    language === 'js' ? [process.execPath, 'receiver.mjs'] : [findProgram('python3'), 'receiver.py'];
  writeFileSync(join(folder.path, file), example(language));
  const port = await freePort();
  receiver = startProgram(program, { args: [join(folder.path, file)], env: { KEY_FILE: keyFile, PORT: String(port) } });
  await untilPrinted(receiver, 'listening');
  return `http://${LOOPBACK}:${port}/holds`;
}

/** The examples compare with the real time. */
const realTime = { clock: { now: () => Date.now() } };

describe.each(['js', 'python'] as const)('the receiver in %s', (language) => {
  test('takes a notice, and a repeat of it only once', async () => {
    const url = await startExample(language, makeKey(bed.keyFile));
    // A journal that forgets: the second start sends the same notice again.
    const forgetful = { ports: { ...realTime, record: async () => undefined } };
    alerts = bed.start(url, [raisedHold()], forgetful);
    await waitFor('the notice', () => receiver?.output().includes('H-41-1-raised-maintenance'));
    await alerts.close();
    alerts = bed.start(url, [raisedHold()], { ports: realTime });
    await waitFor('the repeat on record', () => bed.recorded.length === 1);
    expect(bed.recorded[0]).toMatchObject({ outcome: 'sent' });
    expect(receiver?.output().split('H-41-1-raised-maintenance')).toHaveLength(2);
    expect(receiver?.output()).toContain('A-0312 is on hold: its residual unbalance is 2.4 times what is permissible');
  });

  test('refuses another key, and a time that is far off', async () => {
    const otherKey = join(folder.path, 'key');
    writeFileSync(otherKey, SECRET);
    const url = await startExample(language, otherKey);
    alerts = bed.start(url, [], { ports: realTime });
    expect(await alerts.test('maintenance')).toMatchObject({ ok: false });
    await alerts.close();
    writeFileSync(bed.keyFile, SECRET);
    alerts = bed.start(url, [], { ports: realTime });
    expect(await alerts.test('maintenance')).toEqual({ ok: true, detail: 'answered 204' });
    await alerts.close();
    alerts = bed.start(url, [], { ports: { clock: { now: () => Date.now() - 600_000 } } });
    const late = await alerts.test('maintenance');
    expect(late.ok).toBe(false);
    expect(late.detail).toContain('401');
  });
});

function makeKey(file: string): string {
  readOrMakeKey(file);
  return file;
}
