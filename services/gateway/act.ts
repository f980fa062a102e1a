// A person's act goes to the plant under the person's name; a refusal by the rules becomes a problem.
import type { ActData, ActKind } from '../../shared/acts.ts';
import type { Position } from '../../shared/entries.ts';
import type { Person } from '../access/index.ts';
import type { PlantPort } from './ports.ts';
import { HttpProblem, PROBLEMS } from './problems.ts';

/** Resolves once the act is on disk, with its position in the journal. */
export async function actAs<K extends ActKind>(
  plant: PlantPort,
  person: Person,
  kind: K,
  data: ActData[K],
  /** Made by whoever sends it: sent again after an answer that never came, it is still one act. */
  id?: string,
): Promise<Position> {
  const done = await plant.act({ name: person.name, roles: [...person.roles] }, kind, data, id);
  switch (done.kind) {
    case 'done':
      return done.position;
    case 'refused':
      throw new HttpProblem('not-accepted', { detail: done.why });
    case 'invalid':
      throw HttpProblem.of(done.problem, PROBLEMS['not-valid'].status);
  }
}
