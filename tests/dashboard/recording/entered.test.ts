// What was typed beside a recording: what is asked of it, or what cannot be meant, by its field.
import { expect, test } from 'vitest';
import { askedOf, NOTHING_ENTERED } from '../../../dashboard/recording/entered.ts';
import { Bearing } from '../../../shared/bearing.ts';

const DECLARED = Bearing.parse({
  name: 'front',
  source: 'invented sheet',
  multiples: { cage: 0.4, outer: 7.6, inner: 11.4, rolling: 3.4 },
});

test('nothing entered asks nothing beside the file', () => {
  expect(askedOf(NOTHING_ENTERED)).toEqual({ kind: 'asked', choices: {}, question: { settings: { bearings: [] } } });
});

test('numbers with a point or a comma, a scale in g, bearings in lines, bands', () => {
  const asked = askedOf({
    ...NOTHING_ENTERED,
    speed: '18000',
    teeth: '4',
    scale: '50',
    rate: '25600,5',
    bearings: 'rear: 19 7,9 57 15\n\n',
    bandFrom: '10',
    bandTo: '2000',
  });
  expect(asked).toMatchObject({
    kind: 'asked',
    choices: { fullScaleMS2: 490.3325, sampleRateHz: 25_600.5 },
    question: { speedRpm: 18_000, settings: { teeth: 4, velocityBandHz: [10, 2000] } },
  });
  expect(asked.kind === 'asked' && asked.question.settings.bearings).toMatchObject([
    {
      name: 'rear',
      source: 'entered by hand',
      geometry: { elements: 19, elementDiameterMm: 7.9, contactAngleDeg: 15 },
    },
  ]);
});

test('bearings of a spindle stand beside those that were typed; a typed one of the same name counts', () => {
  const names = (bearings: string) => {
    const asked = askedOf({ ...NOTHING_ENTERED, bearings }, [DECLARED]);
    return asked.kind === 'asked'
      ? asked.question.settings.bearings?.map(({ name, source }) => `${name}: ${source}`)
      : [];
  };
  expect(names('rear: 19 7.9 57 15')).toEqual(['rear: entered by hand', 'front: invented sheet']);
  expect(names('front: 19 7.9 57 15')).toEqual(['front: entered by hand']);
});

test.each([
  ['speed', { speed: 'fast' }, 'Speed: expected a number above 0, came “fast”.'],
  ['scale', { scale: '-50' }, 'Full scale: expected a number above 0, came “-50”.'],
  ['teeth', { teeth: '2.5' }, 'Teeth: expected a whole number up to 500, came 2.5.'],
  [
    'bandFrom',
    { bandFrom: '10' },
    'Band of the overall velocity: expected two frequencies in Hz, the lower one first.',
  ],
  [
    'envelopeFrom',
    { envelopeFrom: '9', envelopeTo: '8' },
    'Band of the envelope: expected two frequencies in Hz, the lower one first.',
  ],
  ['bearings', { bearings: 'front: 8' }, 'Bearings: expected a name, the count of rolling elements'],
  ['bearings', { bearings: 'a: 8 2 12\na: 8 2 12' }, 'Bearings: expected a name for each, came a twice.'],
])('%s', (field, entered, words) => {
  const asked = askedOf({ ...NOTHING_ENTERED, ...entered });
  expect(asked).toMatchObject({
    kind: 'faults',
    faults: [{ field, words: expect.stringContaining(words) as unknown }],
  });
});
