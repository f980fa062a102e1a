// What the page's worker answers: the file read once, any of its channels, how far it is, refusals in words.
import { expect, test, vi } from 'vitest';
import { RecordingReader } from '../../../dashboard/recording/recording-reading.ts';
import { asTable } from '../../shared/recorded-file/measured-recording.ts';

const NAMES = ['1800_GoB_GS_VHIL_WA_00lb_x.f32', '1800_HOR_GS_BaLo_WA_00lb_x.f32'];
const question = { speedRpm: 1800, settings: {} };
const blobOf = (bytes: Uint8Array): Blob => new Blob([bytes.slice()]);

test('a channel of a file, with its samples and what they say; another one does not read it again', async () => {
  const file = blobOf(asTable(NAMES, ['front', 'rear']));
  const bytes = vi.spyOn(file, 'arrayBuffer');
  const reader = new RecordingReader();
  const first = await reader.answer({ file, choices: {}, question, channel: 0 }, () => undefined);
  expect(first).toMatchObject({ kind: 'read', channels: ['front', 'rear'], channel: 0, fullScaleMS2: undefined });
  const second = await reader.answer({ file, choices: {}, question, channel: 1 }, () => undefined);
  expect(second).toMatchObject({ kind: 'read', channel: 1, analysis: { name: 'rear' } });
  expect(second.kind === 'read' && second.samples).toHaveLength(40_000);
  expect(bytes).toHaveBeenCalledTimes(1);
  await reader.answer({ file, choices: { unit: 'm/s2' }, question, channel: 1 }, () => undefined);
  expect(bytes).toHaveBeenCalledTimes(2);
});

test('a channel that the file does not have is its first', async () => {
  const file = blobOf(asTable([NAMES[0]!]));
  expect(
    await new RecordingReader().answer({ file, choices: {}, question, channel: 3 }, () => undefined),
  ).toMatchObject({
    channel: 0,
  });
});

test('samples that are handed over leave the file as it was read', async () => {
  const file = blobOf(asTable([NAMES[0]!]));
  const reader = new RecordingReader();
  const ask = () => reader.answer({ file, choices: {}, question, channel: 0 }, () => undefined);
  const first = await ask();
  structuredClone(first, { transfer: first.kind === 'read' ? [first.samples.buffer as ArrayBuffer] : [] });
  const second = await ask();
  expect(second.kind === 'read' && second.samples).toHaveLength(40_000);
});

test('a file that is too large is refused unread', async () => {
  const file = { size: 64 * 1024 * 1024 + 1, arrayBuffer: vi.fn() } as unknown as Blob;
  const answer = await new RecordingReader().answer({ file, choices: {}, question, channel: 0 }, () => undefined);
  expect(answer).toMatchObject({ kind: 'refused', faults: [{ words: expect.stringContaining('65 MiB') as unknown }] });
});

test('what cannot be read comes with its lines', async () => {
  const file = new Blob([`time;a [g]\n${'0.1;1\n'.repeat(10)}0.2;x\n`]);
  const answer = await new RecordingReader().answer({ file, choices: {}, question, channel: 0 }, () => undefined);
  expect(answer).toMatchObject({ kind: 'refused', faults: [{ line: 12 }] });
});
