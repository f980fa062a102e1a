// The devices that docs/ shows are run as they stand there, against the built service: a bench, a sensor, a machine, a lamp.
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { makeFolder, type Folder } from './environment/folder.ts';
import { LOOPBACK } from './environment/loopback.ts';
import { waitFor } from './environment/wait-for.ts';
import { findProgram, runProgram, startProgram, untilPrinted, type Program } from './environment/program.ts';

const COMMAND = new URL('../build/services/commands/counterpoise.js', import.meta.url).pathname;
const PLANT = 'north-1';
/** Debian's own Python sees Debian's modules. */
const DEBIAN_PYTHON = '/usr/bin/python3';
const DEVICES = {
  'bench-1': ['--kind', 'bench'],
  'sensor-7': ['--kind', 'sensor', '--serves', 'S-07'],
  'machine-3': ['--kind', 'machine', '--serves', 'S-07,S-08'],
  'lamp-1': ['--kind', 'reader', '--serves', '*'],
} as const;
type DeviceName = keyof typeof DEVICES;

let folder: Folder;
let service: Program;
let port = '';
const secrets = new Map<string, string>();

beforeAll(async () => {
  folder = makeFolder('documented-devices');
  const where = ['--plant', PLANT, '--data', join(folder.path, 'data')];
  service = startProgram(process.execPath, {
    args: [COMMAND, 'serve', ...where, '--http-port', '0', '--mqtt-port', '0'],
  });
  await untilPrinted(service, /mqtt:\/\/127\.0\.0\.1:\d+/);
  port = /mqtt:\/\/127\.0\.0\.1:(\d+)/.exec(service.output())?.[1] ?? '';
  const enrolled = Object.entries(DEVICES).map(async ([device, kind]) => {
    const { output } = await runProgram(process.execPath, {
      args: [COMMAND, 'enrol', device, ...kind, ...where, '--json'],
    });
    secrets.set(device, (JSON.parse(output) as { secret: string }).secret);
  });
  await Promise.all(enrolled);
});

afterAll(async () => {
  await service.stop();
  folder.remove();
});

function blocksOf(document: string, language: string): readonly string[] {
  const text = readFileSync(new URL(`../docs/${document}`, import.meta.url), 'utf8');
  return [...text.matchAll(new RegExp(`\`\`\`${language}\\n([^]*?)\`\`\``, 'g'))].map(([, block = '']) => block);
}

function environmentOf(device: DeviceName): Record<string, string> {
  return { HOST: LOOPBACK, PORT: port, PLANT, SECRET: secrets.get(device) ?? '', READINGS: '2' };
}

/** The n-th block that runs one of mosquitto's clients, without the enrolment beside it. */
async function runShell(
  document: string,
  index: number,
  device: DeviceName,
  more = '',
  edited = (block: string): string => block,
): Promise<string> {
  const block = edited(blocksOf(document, 'sh').filter((text) => text.includes('mosquitto_'))[index] ?? '');
  expect(block, `block ${index} of ${document}`).toContain(`-i ${device} `);
  const lines = block.split('\n').filter((line) => line !== '' && !line.startsWith('npm run'));
  const { output } = await runProgram(findProgram('bash'), {
    args: ['-c', `${lines.join('\n')} ${more}`],
    env: environmentOf(device),
  });
  return output;
}

interface Answered {
  readonly for: string;
  readonly residualGmm: number;
  readonly advice?: unknown;
}

/**
 * Until its answer with advice has come: on a busy machine that may follow in a second message, and be heard by whoever
 * connects next. Sent again to the letter, at the same time of day, a result is answered again.
 */
function answeredShell(document: string, index: number, id: string): Promise<Answered> {
  const now = new Date().toISOString();
  return waitFor(`the answer to ${id}`, async () => {
    const output = await runShell(document, index, 'bench-1', '', (block) => block.replace('$(date -u +%FT%TZ)', now));
    const answer = dataOf(output) as Answered;
    return answer.for === id && answer.advice !== undefined ? answer : undefined;
  });
}

async function runPython(document: string, device: DeviceName): Promise<readonly string[]> {
  const python = existsSync(DEBIAN_PYTHON) ? DEBIAN_PYTHON : findProgram('python3');
  const [block = ''] = blocksOf(document, 'python');
  const { output } = await runProgram(python, { args: ['-'], input: block, env: environmentOf(device) });
  return output.trim().split('\n');
}

const dataOf = (message: string): unknown => (JSON.parse(message) as { data: unknown }).data;

test('a sensor that was enrolled beside the running service need not name its spindle, not even without an envelope', async () => {
  const topic = (way: string): string => `counterpoise/v1/${PLANT}/${way}`;
  const { output } = await runProgram(findProgram('mosquitto_rr'), {
    args: [
      '-V mqttv311 -h 127.0.0.1 -W 20 -q 1 -i sensor-7 -u sensor-7 -p'.split(' '),
      [port, '-P', secrets.get('sensor-7') ?? ''],
      ['-t', topic('in/sensor-7/summary'), '-e', topic('back/sensor-7/receipt')],
      ['-m', '{"speedRpm":11988,"overallMmS":1.4}'],
    ].flat(),
  });
  expect(dataOf(output)).toMatchObject({ channel: 'summary', outcome: 'kept-with-remarks' });
});

test('the plant says that it is there', async () => {
  const secret = secrets.get('lamp-1') ?? '';
  const topic = `counterpoise/v1/${PLANT}/out/plant/${PLANT}/status`;
  const { output } = await runProgram(findProgram('mosquitto_sub'), {
    args: [
      '-h',
      LOOPBACK,
      '-p',
      port,
      '-i',
      'lamp-1',
      '-u',
      'lamp-1',
      '-P',
      secret,
      '-t',
      topic,
      '-C',
      '1',
      '-W',
      '20',
    ],
  });
  expect(dataOf(output)).toEqual({ online: true });
});

describe.sequential('in the order of the documents', () => {
  test('a bench declares a build and sends its result, and both are kept', async () => {
    const build = await runShell('connecting-a-bench.md', 0, 'bench-1');
    expect(dataOf(build)).toMatchObject({ for: 'build-A-1042-3', channel: 'build', outcome: 'kept' });
    const result = await runShell('connecting-a-bench.md', 1, 'bench-1');
    expect(dataOf(result)).toMatchObject({ for: 'run-2026-11-24-0047', channel: 'result', outcome: 'kept' });
    expect(await answeredShell('connecting-a-bench.md', 2, 'run-2026-11-24-0048')).toMatchObject({
      verdict: 'exceeds',
      advice: { needed: true, plans: [{ steps: [{ featureId: 'collar', angleDeg: 28, diameterMm: 5 }] }] },
    });
  });

  test('what was done is taken down, measured again, and found to be half of it; a test of the bench as far as it has come', async () => {
    const correction = await runShell('connecting-a-bench.md', 3, 'bench-1');
    expect(dataOf(correction)).toMatchObject({ channel: 'correction', outcome: 'kept' });
    const again = await answeredShell('connecting-a-bench.md', 4, 'run-2026-11-24-0049');
    expect(again).toMatchObject({ stage: 'after-correction', verdict: 'undecided', remarks: [] });
    expect(again.residualGmm).toBeCloseTo(11.9, 1);
    const tested = await runShell('connecting-a-bench.md', 5, 'bench-1');
    expect(dataOf(tested)).toMatchObject({ channel: 'test', outcome: 'kept' });
    await runShell('connecting-a-bench.md', 6, 'bench-1');
  });

  test('a bench in Python gets a receipt for each message', async () => {
    const receipts = await runPython('connecting-a-bench.md', 'bench-1');
    expect(receipts.filter((line) => line.includes("'outcome': 'kept'"))).toHaveLength(4);
  });

  test('a sensor says who it is and sends readings', async () => {
    await runShell('connecting-a-sensor.md', 0, 'sensor-7');
    await runShell('connecting-a-sensor.md', 1, 'sensor-7');
    expect(await runPython('connecting-a-sensor.md', 'sensor-7')).toEqual(['']);
  });

  test('a machine loads what is on hold: the gate and the lamp say so', async () => {
    await runShell('connecting-a-machine.md', 0, 'machine-3');
    const held = await runShell('connecting-a-machine.md', 3, 'lamp-1', '-C 2 -W 20');
    expect(held).toMatch(/out\/spindle\/S-07\/hold .*"reason":"held-assembly-loaded"/);
    expect(held).toMatch(/out\/assembly\/A-1042\/hold .*"reason":"residual-exceeds"/);
    const answer = await runShell('connecting-a-machine.md', 2, 'machine-3');
    expect(dataOf(answer)).toMatchObject({ word: 'HOLD BACK', reason: 'on-hold', assemblyId: 'A-1042' });
  });

  test('taken out, the spindle is free, and a machine in Python loads what there is no objection to', async () => {
    await runShell('connecting-a-machine.md', 1, 'machine-3');
    const [said] = await runPython('connecting-a-machine.md', 'machine-3');
    expect(said).toMatch(/^NO OBJECTION - /);
  });

  test('nothing of it was rejected', () => {
    expect(service.output()).not.toMatch(/turned away|rejected/);
  });
});
