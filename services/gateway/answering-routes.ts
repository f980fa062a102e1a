// How holds are answered: the levels and names that a plant declares, work that is planned on a spindle, and who travelled with whom.
import { Answering, AnsweringView } from '../../shared/answering.ts';
import { say } from '../../shared/language/index.ts';
import { WorkAsked } from '../../shared/planned-work.ts';
import { MAY_DECLARE_ANSWERING, MAY_PLAN_WORK } from '../../shared/rights.ts';
import { instantOf } from '../../shared/time.ts';
import { Travels } from '../../shared/travels.ts';
import { SpindleView } from '../../shared/views.ts';
import { actAs } from './act.ts';
import { answers, found, WithId } from './answers.ts';
import { SIGNED_IN, type App, type Parts } from './app.ts';
import { personOf } from './guard.ts';
import { HttpProblem } from './problems.ts';

export function addAnsweringRoutes(app: App, { plant }: Pick<Parts, 'plant'>): void {
  const reads = { config: { who: SIGNED_IN } };
  app.get('/api/answering', { ...reads, schema: { tags: ['holds'], response: answers(AnsweringView) } }, () =>
    plant.answering(),
  );
  app.put(
    '/api/answering',
    {
      config: { who: MAY_DECLARE_ANSWERING },
      schema: { tags: ['holds'], body: Answering, response: answers(AnsweringView) },
    },
    async (request) => {
      await actAs(plant, personOf(request), 'answering-declared', request.body);
      return plant.answering();
    },
  );
  app.get(
    '/api/holds/:id/travels',
    { ...reads, schema: { tags: ['holds'], params: WithId, response: answers(Travels) } },
    async ({ params }) => found(await plant.travels(params.id), say`No pairs about hold ${params.id} is known.`),
  );
  app.post(
    '/api/spindles/:id/work',
    {
      config: { who: MAY_PLAN_WORK },
      schema: {
        tags: ['floor'],
        params: WithId,
        body: WorkAsked,
        response: answers(SpindleView),
      },
    },
    async (request) => {
      const spindleId = request.params.id;
      found(await plant.spindle(spindleId), say`No spindle ${spindleId} is known.`);
      await actAs(plant, personOf(request), 'work-planned', { ...request.body, spindleId });
      const after = found(await plant.spindle(spindleId), say`No spindle ${spindleId} is known.`);
      expectTaken(request.body, after);
      return after;
    },
  );
}

/** The rules have the last word on a window: whoever declared one that does not count has to hear it. */
function expectTaken({ workId, until, calledOff }: WorkAsked, { work = [] }: SpindleView): void {
  const ends = instantOf(until);
  if (calledOff === true || work.some((one) => one.workId === workId && one.until === ends)) return;
  throw new HttpProblem('not-accepted', {
    detail: say`it was not taken: it lies in the past, or too many of this spindle have not ended; call one off first then`,
  });
}
