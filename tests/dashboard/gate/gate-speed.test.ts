import { expect, test } from 'vitest';
import { fold, type Picture } from '../../../dashboard/feed-fold.ts';
import { fasterProgram, programmedFor, speedLeftEmpty } from '../../../dashboard/gate/gate-speed.ts';
import type { GateAnswer } from '../../../shared/gate.ts';
import { inventedPlant } from '../fixtures/invented-plant.ts';

const folded = fold(undefined, { frame: 'snapshot', number: 1, floor: inventedPlant(12, 0).floor });
if (folded.kind !== 'picture') throw new Error('no picture of the invented plant');
const known = folded.picture;
const row = [...known.spindles.values()].find(({ loaded }) => loaded !== undefined);
if (row?.loaded === undefined) throw new Error('nothing is loaded in the invented plant');
const { spindleId } = row;
const { assemblyId } = row.loaded;

const programmed = (programmedSpeedRpm: number | undefined): Picture => ({
  ...known,
  spindles: new Map([...known.spindles, [spindleId, { ...row, programmedSpeedRpm }]]),
});
const fields = { spindleId, assemblyId, speed: '' };
const another = { ...fields, assemblyId: 'A-9999' };
const answer = (askedSpeedRpm: number | undefined): GateAnswer => ({
  spindleId,
  assemblyId: 'A-9999',
  word: 'NO OBJECTION',
  reason: 'within',
  why: 'w',
  next: 'n',
  caution: 'c',
  ...(askedSpeedRpm === undefined ? {} : { askedSpeedRpm }),
});

test('the programmed speed counts for what is loaded there, and for nothing else', () => {
  expect(programmedFor(fields, programmed(15_000))).toBe(15_000);
  expect(programmedFor({ ...fields, assemblyId: assemblyId.toLowerCase() }, programmed(15_000))).toBe(15_000);
  expect(programmedFor(another, programmed(15_000))).toBeUndefined();
  expect(programmedFor({ ...fields, assemblyId: '' }, programmed(15_000))).toBeUndefined();
  expect(programmedFor(fields, programmed(0))).toBeUndefined();
  expect(programmedFor(fields, undefined)).toBeUndefined();
});

test('the empty field says which speed is asked about', () => {
  expect(speedLeftEmpty(fields, programmed(15_000))).toBe('as programmed');
  expect(speedLeftEmpty(another, programmed(15_000))).toBe('its service speed');
  expect(speedLeftEmpty(fields, programmed(undefined))).toBe('its service speed');
});

test('where the program of the spindle runs faster than what was answered about, that is said; never of a typed speed', () => {
  const faster = programmed(15_000);
  expect(fasterProgram(another, answer(12_000), faster)).toBe(15_000);
  expect(fasterProgram(another, answer(15_000), faster)).toBeUndefined();
  expect(fasterProgram({ ...another, speed: '12000' }, answer(12_000), faster)).toBeUndefined();
  expect(fasterProgram(another, answer(undefined), faster)).toBeUndefined();
  expect(fasterProgram(another, answer(12_000), programmed(undefined))).toBeUndefined();
});
