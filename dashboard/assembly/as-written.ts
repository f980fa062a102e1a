// An id typed in another case is the same assembly: asked for only when nobody knows the id as it was typed.
import type { Api } from '../api.ts';
import { sameIn } from '../shell/find.ts';

export async function assemblyAsWritten(api: Pick<Api, 'assemblies'>, typed: string): Promise<string | undefined> {
  const answer = await api.assemblies();
  return answer.kind === 'answer'
    ? sameIn(
        answer.value.map(({ assemblyId }) => assemblyId),
        typed,
      )
    : undefined;
}
