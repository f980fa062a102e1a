// Reading the floor: spindles, assemblies, their series, and the gate. Spindles are declared here by an engineer.
import * as z from 'zod';
import { SpindleDeclared } from '../../shared/acts.ts';
import { GateAnswer } from '../../shared/gate.ts';
import { Id } from '../../shared/ids.ts';
import { SpeedRpm } from '../../shared/quantity.ts';
import { RibbonsView } from '../../shared/ribbons.ts';
import { MAY_ASK_GATE } from '../../shared/rights.ts';
import { AssemblyRow, AssemblyView } from '../../shared/assembly-views.ts';
import { say } from '../../shared/language/index.ts';
import { SERIES_QUANTITIES } from '../../shared/series-quantities.ts';
import { FloorView, SeriesView, SpindleView } from '../../shared/views.ts';
import { actAs } from './act.ts';
import { answers, found, WithId } from './answers.ts';
import { SIGNED_IN, type App, type Parts } from './app.ts';
import { personOf } from './guard.ts';
import { HttpProblem } from './problems.ts';

const POINTS_WHEN_NOT_SAID = 800;

export function addFloorRoutes(app: App, { plant }: Pick<Parts, 'plant'>): void {
  const reads = { config: { who: SIGNED_IN } };
  app.get('/api/floor', { ...reads, schema: { tags: ['floor'], response: answers(FloorView) } }, () => plant.floor());
  app.get(
    '/api/spindles/:id',
    { ...reads, schema: { tags: ['floor'], params: WithId, response: answers(SpindleView) } },
    async ({ params }) => found(await plant.spindle(params.id), say`No spindle ${params.id} is known.`),
  );
  app.put(
    '/api/spindles/:id',
    {
      config: { who: ['engineer'] },
      schema: {
        tags: ['floor'],
        params: WithId,
        body: SpindleDeclared.omit({ spindleId: true }),
        response: answers(SpindleView),
      },
    },
    async (request) => {
      const declared = { ...request.body, spindleId: request.params.id };
      await actAs(plant, personOf(request), 'spindle-declared', declared);
      return found(await plant.spindle(request.params.id), say`No spindle ${request.params.id} is known.`);
    },
  );
  app.get(
    '/api/assemblies',
    { ...reads, schema: { tags: ['floor'], response: answers(z.array(AssemblyRow).readonly()) } },
    () => plant.assemblies(),
  );
  app.get(
    '/api/assemblies/:id',
    { ...reads, schema: { tags: ['floor'], params: WithId, response: answers(AssemblyView) } },
    async ({ params }) => found(await plant.assembly(params.id), say`No assembly ${params.id} is known.`),
  );
  app.get(
    '/api/gate',
    {
      config: { who: MAY_ASK_GATE },
      schema: { tags: ['gate'], querystring: GateAsked, response: answers(GateAnswer) },
    },
    ({ query: { speedRpm, ...asked } }) => plant.gate(speedRpm === undefined ? asked : { ...asked, speedRpm }),
  );
}

const AskedSpeed = z.preprocess((text) => (text === undefined ? undefined : Number(text)), SpeedRpm.optional());

const GateAsked = z.object({ assemblyId: Id, spindleId: Id, speedRpm: AskedSpeed });

export function addSeriesRoutes(app: App, { plant, series, limits }: Pick<Parts, 'plant' | 'series' | 'limits'>): void {
  const at = z.coerce.number().int().min(0).max(8.64e15).meta({ description: 'ms UTC' });
  const points = z.coerce.number().int().min(1).max(limits.seriesPointsMax).default(POINTS_WHEN_NOT_SAID);
  const Stretch = z.object({ from: at, to: at, points });
  app.get(
    '/api/spindles/:id/series',
    {
      config: { who: SIGNED_IN },
      schema: {
        tags: ['series'],
        params: WithId,
        querystring: Stretch.extend({
          quantity: z.enum(SERIES_QUANTITIES),
          fromSpeedRpm: AskedSpeed.meta({
            description: 'with toSpeedRpm: only readings at these speeds of a warm spindle, steady and not cutting',
          }),
          toSpeedRpm: AskedSpeed,
        }),
        response: answers(SeriesView),
      },
    },
    ({ params, query }) =>
      series.series({ ...forward(query), ...speedsOf(query), quantity: query.quantity, spindleId: params.id }),
  );
  app.get(
    '/api/ribbons',
    {
      config: { who: SIGNED_IN },
      schema: {
        tags: ['series'],
        querystring: Stretch.extend({ cell: z.string().max(40).optional() }),
        response: answers(RibbonsView),
      },
    },
    async ({ query }) => {
      if (query.cell === undefined) return series.ribbons(forward(query));
      const floor = await plant.floor();
      const ofCell = floor.spindles.filter((row) => row.cell === query.cell);
      return series.ribbons({ ...forward(query), spindleIds: ofCell.map((row) => row.spindleId) });
    },
  );
}

/** Both ends or neither. */
function speedsOf(asked: { fromSpeedRpm?: number | undefined; toSpeedRpm?: number | undefined }) {
  const { fromSpeedRpm: fromRpm, toSpeedRpm: toRpm } = asked;
  if (fromRpm === undefined && toRpm === undefined) return {};
  if (fromRpm !== undefined && toRpm !== undefined && fromRpm <= toRpm) return { speeds: { fromRpm, toRpm } };
  const errors = [
    { pointer: '/toSpeedRpm', want: say`both fromSpeedRpm and a toSpeedRpm that is no less`, got: String(toRpm) },
  ];
  throw new HttpProblem('not-valid', { detail: say`Look at the query.`, errors });
}

function forward({ from, to, points }: { from: number; to: number; points: number }) {
  if (from < to) return { from, to, points };
  const errors = [{ pointer: '/to', want: say`a time after from`, got: String(to) }];
  throw new HttpProblem('not-valid', { detail: say`Look at the query.`, errors });
}
