// The plant's thread: opens the journal first, folds what it holds, then takes batches one after another.
import { randomUUID } from 'node:crypto';
import { parentPort, workerData } from 'node:worker_threads';
import { openKeeper } from '../holds/index.ts';
import { createIntake } from '../intake/index.ts';
import { openJournal } from '../journal/index.ts';
import { clockOf } from './clock.ts';
import { Desk } from './desk.ts';
import { Unpacker } from './packets.ts';
import { Plant } from './plant.ts';
import type { FromPlant, PlantSettings, ToPlant } from './protocol.ts';
import { memoryOf } from './windows.ts';

const port = parentPort;
if (port === null) throw new Error('thread.ts is started by openPlant, as a worker');
const send = (message: FromPlant, transfer: readonly ArrayBuffer[] = []): void => port.postMessage(message, transfer);

const unpacker = new Unpacker();

async function run(settings: PlantSettings): Promise<void> {
  const begun = performance.now();
  const clock = clockOf(settings.pace);
  const { plant: plantId, zone, invented, inTheClear } = settings;
  const journal = await openJournal({ ...settings.journal, onFull: (waiting) => send({ kind: 'full', waiting }) });
  const keeper = await openKeeper({ journal, plant: plantId, zone, invented });
  const intake = createIntake({ plant: plantId, boot: randomUUID().slice(0, 8) });
  for (const { device, ...born } of keeper.births()) intake.born(device, born);
  for (const [device, binding] of settings.bindings) intake.enrol(device, binding);
  const plant = new Plant({ plant: plantId, journal, keeper, intake, clock, freshId: randomUUID });
  const sendFrame = (json: string): void => send({ kind: 'frame', json });
  const { waveBytesMax } = settings;
  const desk = new Desk({ plant, keeper, journal, intake, clock, inTheClear, waveBytesMax, sendFrame });
  port?.on('message', (message: ToPlant) => void take(message, plant, desk));
  const { position } = await journal.head();
  desk.start();
  send({ kind: 'ready', position, seconds: (performance.now() - begun) / 1000 });
}

async function take(message: ToPlant, plant: Plant, desk: Desk): Promise<void> {
  if (message.kind === 'packets') {
    try {
      const { buffer, length } = message;
      const told = await plant.admit(unpacker.unpack(buffer, length));
      send({ kind: 'admitted', told, buffer }, [buffer, ...memoryOf(told.waves)]);
      if (told.holdIds.length > 0) desk.sendChanges();
    } catch (failure) {
      // Nothing was acknowledged. Whatever the floor now holds, the journal is what counts: start again from it.
      send({ kind: 'broken', message: wordsOf(failure) });
    }
    return;
  }
  const { number, name, args } = message;
  try {
    const call = desk.calls[name] as (...args: readonly unknown[]) => unknown;
    const value = await call(...args);
    send({ kind: 'answer', number, value });
    if (name === 'act' || name === 'tick') desk.sendChanges();
    if (name === 'close') port?.close();
  } catch (failure) {
    send({ kind: 'failed-call', number, message: wordsOf(failure) });
    if (plant.failure !== undefined) send({ kind: 'broken', message: plant.failure.message });
  }
}

function wordsOf(failure: unknown): string {
  return failure instanceof Error ? failure.message : String(failure);
}

run(workerData as PlantSettings).catch((failure: unknown) => send({ kind: 'broken', message: wordsOf(failure) }));
