// Limits of all spindles at once; and from a file: said first what it would change, then declared spindle by spindle under the name of who signed in.
import * as z from 'zod';
import { SpindleDeclared } from '../../shared/acts.ts';
import { DeclaredLimits } from '../../shared/declared-limits.ts';
import { LimitsFile, LimitsImported } from '../../shared/limits-import.ts';
import { MAY_DECLARE_SPINDLE } from '../../shared/rights.ts';
import { mergeLimits, readLimitFile, type LimitFile } from '../limit-files/index.ts';
import { actAs } from './act.ts';
import { answers } from './answers.ts';
import { SIGNED_IN, type App, type Parts } from './app.ts';
import { personOf } from './guard.ts';
import type { PlantPort } from './ports.ts';

/** JSON writes some characters with more than one byte. */
const BODY_BYTES_MAX = 4 * 1024 * 1024;

const Asked = z.object({
  check: z.enum(['true', 'false']).default('false').meta({ description: 'true: nothing is done' }),
});

export function addLimitsImportRoute(app: App, { plant }: Pick<Parts, 'plant'>): void {
  app.get(
    '/api/limits',
    { config: { who: SIGNED_IN }, schema: { tags: ['floor'], response: answers(DeclaredLimits) } },
    () => plant.declaredLimits(),
  );
  app.post(
    '/api/limits/import',
    {
      bodyLimit: BODY_BYTES_MAX,
      config: { who: MAY_DECLARE_SPINDLE },
      schema: { tags: ['floor'], querystring: Asked, body: LimitsFile, response: answers(LimitsImported) },
    },
    async (request): Promise<LimitsImported> => {
      const file = readLimitFile(request.body.text);
      const declared = await declaredIn(plant, file);
      const merged = mergeLimits(file, (spindleId) => declared.get(spindleId), (await plant.floor()).now);
      const rows = { limits: file.limits.length, zones: file.zones.length, bearings: file.bearings.length };
      const said = { rows, faults: [...merged.faults], changes: [...merged.changes] };
      // All of a file or nothing: a table of which a part is in force is nobody's table.
      if (request.query.check === 'true' || merged.faults.length > 0) return { done: false, ...said };
      for (const one of merged.declarations) await actAs(plant, personOf(request), 'spindle-declared', one);
      return { done: true, ...said };
    },
  );
}

/** As they stand now; spindles that nobody declared are left out. */
async function declaredIn(plant: PlantPort, file: LimitFile): Promise<ReadonlyMap<string, SpindleDeclared>> {
  const ids = new Set([...file.limits, ...file.zones, ...file.bearings].map((row) => row.spindleId));
  const found = new Map<string, SpindleDeclared>();
  for (const id of ids) {
    const declared = (await plant.spindle(id))?.declared;
    if (declared !== undefined) found.set(id, SpindleDeclared.parse(declared));
  }
  return found;
}
