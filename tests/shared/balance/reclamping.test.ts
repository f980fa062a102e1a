// When a grade cannot be shown at a speed, because the interface scatters by more than the grade permits.
import { describe, expect, test } from 'vitest';
import { scatterOf, showabilityOf } from '../../../shared/balance/index.ts';

describe('reclamping', () => {
  test('R2: 2 µm on 1.2 kg are 2.4 g·mm, where G2.5 at 24 000 rpm permits 1.19366 (ISO 21940-11)', () => {
    const answer = showabilityOf({ gradeMmS: 2.5, speedRpm: 24_000, scatterUm: 2 });
    expect(answer.kind).toBe('cannot-be-shown-at-this-speed');
    expect(answer.permissibleSpecificUm * 1.2).toBeCloseTo(1.19366, 4);
    expect(answer.scatterUm * 1.2).toBeCloseTo(2.4, 12);
  });

  test('R1: 2 µm amount to G5.24 at 25 000 rpm, and hold G2.5 below 11 937 rpm whatever the mass (ISO 21940-11)', () => {
    const answer = showabilityOf({ gradeMmS: 2.5, speedRpm: 25_000, scatterUm: 2 });
    expect(answer.scatterGradeMmS).toBeCloseTo(5.23599, 4);
    expect(answer.highestSpeedRpm).toBeCloseTo(11_936.6, 1);
    expect(showabilityOf({ gradeMmS: 2.5, speedRpm: 11_936, scatterUm: 2 }).kind).toBe('can-be-shown');
    expect(showabilityOf({ gradeMmS: 2.5, speedRpm: 11_937, scatterUm: 2 }).kind).toBe('cannot-be-shown-at-this-speed');
  });

  test('E8: a hollow taper can show G2.5 and a steep taper G6.3 at 10 000 rpm (common practice, no source)', () => {
    const kindAt = (interfaceKind: string, gradeMmS: number) =>
      showabilityOf({ gradeMmS, speedRpm: 10_000, scatterUm: scatterOf(interfaceKind)?.lowUm ?? Number.NaN }).kind;
    expect(kindAt('hsk', 2.5)).toBe('can-be-shown');
    expect(kindAt('steep-taper', 6.3)).toBe('can-be-shown');
    expect(kindAt('steep-taper', 2.5)).toBe('cannot-be-shown-at-this-speed');
  });

  test('an interface without scatter bounds nothing', () => {
    expect(showabilityOf({ gradeMmS: 0.4, speedRpm: 60_000, scatterUm: 0 })).toMatchObject({
      kind: 'can-be-shown',
      highestSpeedRpm: null,
    });
  });

  test('nonsense is refused', () => {
    expect(() => showabilityOf({ gradeMmS: 2.5, speedRpm: 0, scatterUm: 2 })).toThrow(/speedRpm: expected/);
    expect(() => showabilityOf({ gradeMmS: 2.5, speedRpm: 1, scatterUm: -2 })).toThrow(/scatterUm: expected/);
  });
});
