import { expect, test } from 'vitest';
import { coupleWords } from '../../../dashboard/assembly/couple-words.ts';
import { featureTracks } from '../../../dashboard/assembly/feature-track.ts';
import { featureWords, sectorWords } from '../../../dashboard/assembly/feature-words.ts';
import { FEATURES } from '../fixtures/invented-features.ts';

test('around a plane stand the places that lie in it, around the whole all of them', () => {
  const features = FEATURES['A-0105']!;
  expect(featureTracks(features, 'I').map(({ featureId }) => featureId)).toEqual(['collar']);
  expect(featureTracks(features, undefined)).toHaveLength(2);
  expect(featureTracks(FEATURES['A-0108']!, 'I')).toHaveLength(3);
});

test('screws that are in and rings as they stand are marked as set', () => {
  const [, screws] = featureTracks(FEATURES['A-0108']!, undefined);
  expect(screws).toMatchObject({ nowDeg: [45] });
  expect(screws!.atDeg).toHaveLength(8);
  expect(featureTracks(FEATURES['A-0103']!, undefined)[0]).toMatchObject({ nowDeg: [40, 220], atDeg: [] });
});

test('limits are told with their units', () => {
  const [collar, flange, rim] = FEATURES['A-0108']!;
  expect(featureWords(collar!)).toBe('at radius 31.5 mm, drills ⌀ 4, 6 mm, at most 8 mm deep, 4 places');
  expect(featureWords({ ...flange!, stock: [] } as typeof flange & object)).toContain('in stock none');
  expect(featureWords(rim!)).toContain('9 mm wide, at most 1.5 mm deep');
  expect(sectorWords({ fromDeg: 350, toDeg: 10, why: 'drive slot' })).toBe('350° to 10°, drive slot');
});

// Hand-worked: 2 g·mm at 0° in I, 2 g·mm at 180° in II cancel as a sum and are a pure couple of 2 g·mm in each plane.
test('a pure couple does not show in the sum and is said', () => {
  const planes = [
    { name: 'I', residualGmm: 2, angleDeg: 0, positionMm: 30 },
    { name: 'II', residualGmm: 2, angleDeg: 180, positionMm: 130 },
  ];
  const words = coupleWords(planes, 80);
  expect(words).toContain('0 g·mm at');
  expect(words).toContain('about the centre of mass: 2.00 g·mm in II at 180°');
  expect(coupleWords(planes, undefined)).toContain('the middle between the planes');
  expect(coupleWords([planes[0]!], 80)).toBeUndefined();
  const unplaced = planes.map(({ positionMm: _position, ...plane }) => plane);
  expect(coupleWords(unplaced, 80)).toContain('it is not known where the planes lie');
});
