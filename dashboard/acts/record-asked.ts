// What the address of the record asks for, as the service is asked for it. Pure.
import { RECORD_ACTS, RECORD_DECISIONS, type RecordKind } from '../../shared/record-kinds.ts';
import type { RecordQuestion } from './record-api.ts';
import type { RecordRoute } from '../router.ts';
import { beginOfDay, endOfDay } from './plant-days.ts';

export function questionOf({ by, about, kind, from, to }: RecordRoute, zone: string): RecordQuestion {
  const begin = from === undefined ? undefined : beginOfDay(from, zone);
  const end = to === undefined ? undefined : endOfDay(to, zone);
  return {
    kinds: kindsOf(kind),
    ...(by === undefined ? {} : { by }),
    ...(about === undefined ? {} : { about }),
    ...(begin === undefined ? {} : { from: begin }),
    ...(end === undefined ? {} : { to: end }),
  };
}

function kindsOf(kind: RecordRoute['kind']): readonly RecordKind[] {
  if (kind === undefined) return [];
  if (kind === 'acts') return RECORD_ACTS;
  return kind === 'decisions' ? RECORD_DECISIONS : [kind];
}
