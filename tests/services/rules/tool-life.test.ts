// Lives of cutters as they are told: under which name, with which residual, which of them ended by themselves; and what is said of them.
import { expect, test } from 'vitest';
import type { Entry } from '../../../shared/entries.ts';
import { draws } from '../../shared/statistics/invented-courses.ts';
import { emptyFloor, evolve, type Floor } from '../../../services/rules/index.ts';
import { LIVES_PER_CUTTER_MAX } from '../../../services/rules/tool-life.ts';

const AT = Date.UTC(2031, 2, 3);

class Shop {
  readonly floor: Floor = emptyFloor('test');
  #position = 0;

  tell(kind: string, data: object): this {
    const position = (this.#position += 1);
    const entry = { kind, position, at: AT + position * 60_000, id: `m-${position}`, device: 'd-1', data };
    evolve(this.floor, entry as unknown as Entry, []);
    return this;
  }

  built(buildId: string, residualGmm: number | undefined): this {
    const parts = [
      { role: 'holder', name: 'Holder (invented)' },
      { role: 'cutter', name: 'Face mill (invented)' },
    ];
    const whole = { assemblyId: 'A-1', buildId };
    this.tell('build', { ...whole, massKg: 2, serviceSpeedRpm: 10_000, gradeMmS: 6.3, parts });
    if (residualGmm === undefined) return this;
    return this.tell('result', {
      ...whole,
      runId: `R-${buildId}`,
      stage: 'final',
      planes: [{ name: 'A', residualGmm, angleDeg: 0 }],
    });
  }

  lasted(buildId: string, lifeMin: number, ended: string): this {
    return this.tell('life', { spindleId: 'S-1', assemblyId: 'A-1', buildId, lifeMin, ended });
  }

  get lives() {
    return this.floor.cutters.get('Face mill (invented)');
  }
}

test('worn and broken are ends, planned and other are cut short; each with the residual of its build', () => {
  const shop = new Shop().built('B-1', 6);
  for (const ended of ['worn', 'broken', 'planned', 'other']) shop.lasted('B-1', 100, ended);
  shop.built('B-2', 3).lasted('B-1', 90, 'worn').lasted('B-2', 120, 'worn');
  expect(shop.lives?.lives.map(({ isEnd }) => isEnd)).toEqual([true, true, false, false, true, true]);
  const shares = shop.lives?.lives.map(({ share }) => share) ?? [];
  // 9549.2966 · 6.3 · 2 ÷ 10,000 = 12.03 g·mm are permissible.
  expect(shares[0]).toBeCloseTo(6 / 12.032, 3);
  expect(shares[4]).toBe(shares[0]);
  expect(shares[5]).toBeCloseTo(3 / 12.032, 3);
});

test('a build that was not measured, no time in the cut, an assembly that is not known', () => {
  const shop = new Shop().built('B-1', undefined).lasted('B-1', 100, 'worn').lasted('B-1', 0, 'worn');
  shop.tell('life', { spindleId: 'S-1', assemblyId: 'A-9', lifeMin: 10, ended: 'worn' });
  expect(shop.lives).toMatchObject({ lives: [], withoutResidual: 1 });
  expect(shop.floor.cutters.size).toBe(1);
});

test('the newest are remembered', () => {
  const shop = new Shop().built('B-1', 6);
  for (let nth = 1; nth <= LIVES_PER_CUTTER_MAX + 5; nth += 1) shop.lasted('B-1', nth, 'worn');
  expect(shop.lives?.lives).toHaveLength(LIVES_PER_CUTTER_MAX);
  expect(shop.lives?.lives[0]?.minutes).toBe(6);
});

test('builds that differ bring residuals that differ', () => {
  const draw = draws(3);
  const shop = new Shop();
  for (let nth = 0; nth < 30; nth += 1)
    shop.built(`B-${nth}`, 12 * draw()).lasted(`B-${nth}`, 60 + 100 * draw(), 'worn');
  expect(new Set(shop.lives?.lives.map(({ share }) => share)).size).toBe(30);
});
