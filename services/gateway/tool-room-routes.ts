// The tool room: its results, work and benches, advice for an assembly, and what people put on record about them.
import * as z from 'zod';
import { DoubtLifted, ReferenceDeclared } from '../../shared/acts.ts';
import { Advice } from '../../shared/advice.ts';
import { AssemblyView } from '../../shared/assembly-views.ts';
import { say } from '../../shared/language/index.ts';
import { Correction } from '../../shared/messages/index.ts';
import { ReferenceView } from '../../shared/reference-view.ts';
import { MAY_DECLARE_REFERENCE, MAY_LIFT_DOUBT, MAY_RECORD_CORRECTION } from '../../shared/rights.ts';
import { BenchView, ToolRoomView } from '../../shared/tool-room.ts';
import { actAs } from './act.ts';
import { answers, found, WithId } from './answers.ts';
import { SIGNED_IN, type App, type Parts } from './app.ts';
import { personOf } from './guard.ts';
import { HttpProblem } from './problems.ts';

const AdviceAsked = z.object({
  position: z.coerce.number().int().min(1).max(Number.MAX_SAFE_INTEGER).optional().meta({
    description: 'of a measurement in the journal; left out: the one in force',
  }),
});

export function addToolRoomRoutes(app: App, { plant }: Pick<Parts, 'plant'>): void {
  const reads = { config: { who: SIGNED_IN } };
  app.get('/api/tool-room', { ...reads, schema: { tags: ['tool room'], response: answers(ToolRoomView) } }, () =>
    plant.toolRoom(),
  );
  app.get(
    '/api/assemblies/:id/advice',
    {
      ...reads,
      schema: { tags: ['tool room'], params: WithId, querystring: AdviceAsked, response: answers(Advice) },
    },
    async ({ params, query }) => {
      const told = await plant.advice(params.id, query.position);
      switch (told.kind) {
        case 'advice':
          return told.advice;
        case 'unknown':
          return found(undefined, told.detail);
        case 'full':
          throw new HttpProblem('full', { detail: say`Too many ask for advice at the moment.`, retryAfterS: 1 });
        case 'failed':
          throw new HttpProblem('failed', { detail: say`No advice could be made: ${told.why}.` });
      }
    },
  );
  app.post(
    '/api/assemblies/:id/corrections',
    {
      config: { who: MAY_RECORD_CORRECTION },
      schema: {
        tags: ['tool room'],
        params: WithId,
        body: Correction.omit({ assemblyId: true }),
        response: answers(AssemblyView),
      },
    },
    async (request) => {
      const { id } = request.params;
      const assembly = found(await plant.assembly(id), say`No assembly ${id} is known.`);
      expectKnownBuild(assembly, request.body.buildId);
      expectReplaceable(assembly, request.body.insteadOf);
      const by = request.body.by ?? personOf(request).name;
      await actAs(plant, personOf(request), 'correction-recorded', { ...request.body, by, assemblyId: id });
      return found(await plant.assembly(id), say`No assembly ${id} is known.`);
    },
  );
  addBenchRoutes(app, plant);
  addReferenceRoutes(app, plant);
}

/** A device's word is taken as it is and remarked; a person can be asked at once. */
function expectKnownBuild({ row, measurements }: AssemblyView, buildId: string): void {
  if (row.buildId === buildId || measurements.some((one) => one.buildId === buildId)) return;
  const want = say`a build of ${row.assemblyId} that is known${row.buildId === undefined ? '' : say`, such as ${row.buildId}`}`;
  throw new HttpProblem('not-valid', { errors: [{ pointer: '/buildId', want, got: buildId }] });
}

function expectReplaceable({ row, corrections }: AssemblyView, insteadOf: number | undefined): void {
  if (insteadOf === undefined) return;
  if (corrections.some((one) => one.position === insteadOf && one.replacedBy === undefined)) return;
  const want = say`the position of a correction of ${row.assemblyId} that still counts`;
  throw new HttpProblem('not-valid', { errors: [{ pointer: '/insteadOf', want, got: String(insteadOf) }] });
}

function addBenchRoutes(app: App, plant: Parts['plant']): void {
  const benchOf = async (id: string): Promise<BenchView> =>
    found(
      (await plant.toolRoom()).benches.find((bench) => bench.bench === id),
      say`No bench ${id} is known.`,
    );
  app.post(
    '/api/benches/:id/doubt-lifted',
    {
      config: { who: MAY_LIFT_DOUBT },
      schema: {
        tags: ['tool room'],
        params: WithId,
        body: DoubtLifted.omit({ benchId: true }),
        response: answers(BenchView),
      },
    },
    async (request) => {
      const { id } = request.params;
      const bench = await benchOf(id);
      // Results stay in doubt after the bench has passed again, until they are measured anew or somebody answers for them.
      if (bench.trust !== 'in-doubt' && bench.touched.assemblies.length === 0)
        throw new HttpProblem('not-accepted', { detail: say`Nothing of ${id} is in doubt.` });
      await actAs(plant, personOf(request), 'doubt-lifted', { ...request.body, benchId: id });
      return benchOf(id);
    },
  );
}

function addReferenceRoutes(app: App, plant: Parts['plant']): void {
  app.get(
    '/api/reference',
    { config: { who: SIGNED_IN }, schema: { tags: ['tool room'], response: answers(ReferenceView) } },
    () => plant.reference(),
  );
  app.put(
    '/api/reference',
    {
      config: { who: MAY_DECLARE_REFERENCE },
      schema: { tags: ['tool room'], body: ReferenceDeclared, response: answers(ReferenceView) },
    },
    async (request) => {
      await actAs(plant, personOf(request), 'reference-declared', request.body);
      return plant.reference();
    },
  );
}
