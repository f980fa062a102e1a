// The invented plant is complete, says that it is invented, and its parts fit each other.
import { describe, expect, test } from 'vitest';
import { SpindleDeclared } from '../../shared/acts.ts';
import { ID_PATTERN } from '../../shared/ids.ts';
import { demoPlant } from '../../simulators/index.ts';
import { markedMaxRpm } from '../../simulators/assemblies.ts';
import { makePlant } from '../../simulators/plant.ts';

const plant = demoPlant(1);

describe('the plant', () => {
  test('has 12 spindles in 3 cells, 2 benches, 40 assemblies', () => {
    expect(plant.spindles).toHaveLength(12);
    expect(new Set(plant.spindles.map((spindle) => spindle.cell)).size).toBe(3);
    expect(plant.devices.filter((device) => device.kind === 'bench')).toHaveLength(2);
    expect(plant.assemblies).toHaveLength(40);
    expect(plant.assemblies[0]?.assemblyId).toBe('A-0101');
  });

  test('every spindle has one sensor and one control', () => {
    for (const { spindleId } of plant.spindles) {
      const kinds = plant.devices.filter((device) => device.serves.includes(spindleId)).map((device) => device.kind);
      expect(kinds.toSorted()).toEqual(['machine', 'reader', 'sensor']);
    }
  });

  test('names are ids that MQTT can carry, and no two alike', () => {
    const names = plant.devices.map((device) => device.device);
    for (const name of names) expect(name).toMatch(ID_PATTERN);
    expect(new Set(names.map((name) => name.toLowerCase())).size).toBe(names.length);
  });

  test('declarations pass the schema, and every limit says that it is invented', () => {
    for (const spindle of plant.spindles) {
      expect(SpindleDeclared.parse(spindle)).toEqual(spindle);
      for (const limit of spindle.limits) expect(limit.source).toContain('invented');
    }
  });

  test('every speed that is programmed, turned down or not, lies inside one range of its limits with 1 % to spare', () => {
    const { spindles, assemblies } = makePlant(1);
    for (const { declared, maxSpeedRpm } of spindles) {
      for (const { serviceSpeedRpm } of assemblies) {
        const slower = Math.round((serviceSpeedRpm * 0.8) / 500) * 500;
        for (const programmed of [serviceSpeedRpm, slower]) {
          for (const override of [1, 0.9, 0.8]) {
            const speedRpm = Math.min(maxSpeedRpm, programmed) * override;
            const around = declared.limits.filter(
              ({ fromSpeedRpm, toSpeedRpm }) => speedRpm * 1.01 >= fromSpeedRpm && speedRpm * 0.99 <= toSpeedRpm,
            );
            const inside = around.filter(
              ({ fromSpeedRpm, toSpeedRpm }) => speedRpm * 0.99 >= fromSpeedRpm && speedRpm * 1.01 <= toSpeedRpm,
            );
            expect(
              around.map(({ quantity }) => quantity),
              `${declared.spindleId} at ${speedRpm}`,
            ).toEqual(['overall', 'synchronous']);
            expect(inside).toEqual(around);
          }
        }
      }
    }
  });

  test('every part of every assembly is marked as invented', () => {
    for (const assembly of makePlant(1).assemblies) {
      for (const part of assembly.parts) expect(part.name).toContain('(invented)');
    }
  });

  test('no assembly is asked to run above the lowest marked maximum of its parts', () => {
    for (const assembly of makePlant(1).assemblies) {
      expect(assembly.serviceSpeedRpm).toBeLessThan(markedMaxRpm(assembly));
    }
  });

  test('the same seed gives the same plant, another seed another', () => {
    expect(demoPlant(1)).toEqual(plant);
    expect(demoPlant(2).assemblies).not.toEqual(plant.assemblies);
  });
});
