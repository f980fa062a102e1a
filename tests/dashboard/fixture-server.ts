// Serves the built dashboard with an invented plant behind it, so that pages can be looked at and tested without a service.
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import fastifyStatic from '@fastify/static';
import fastifyWebsocket from '@fastify/websocket';
import fastify, { type FastifyInstance, type FastifyRequest } from 'fastify';
import type { Advice } from '../../shared/advice.ts';
import type { Correction } from '../../shared/messages/index.ts';
import type { HoldActName } from '../../shared/rights.ts';
import type { SeriesQuantity } from '../../shared/series-quantities.ts';
import type { HoldView } from '../../shared/views.ts';
import { aheadRoutes } from './fixtures/ahead-routes.ts';
import { answeringRoutes } from './fixtures/answering-routes.ts';
import { inventedAdvice } from './fixtures/invented-advice.ts';
import { inventedAssemblies, inventedAssembly } from './fixtures/invented-assemblies.ts';
import { inventedRibbons, inventedSeries, inventedSpindle } from './fixtures/invented-history.ts';
import { acted, gateAnswer } from './fixtures/invented-answers.ts';
import { inventedTravels } from './fixtures/invented-causes.ts';
import { heldLoadedHold } from './fixtures/invented-holds.ts';
import { headroomRoutes } from './fixtures/headroom-routes.ts';
import { inventedGroup } from './fixtures/invented-group.ts';
import { inventedToolRoom } from './fixtures/invented-tool-room.ts';
import { limitsRoutes } from './fixtures/limits-routes.ts';
import { monthRoutes } from './fixtures/month-routes.ts';
import { plantRoutes } from './fixtures/plant-routes.ts';
import { tryOutRoutes } from './fixtures/try-out-routes.ts';
import { recordRoutes } from './fixtures/record-routes.ts';
import { LivingPlant, type PlantOptions } from './fixtures/living-plant.ts';
import { inventedWaveEntry } from './fixtures/invented-waves.ts';
import { waveRoutes, withWindows } from './fixtures/wave-routes.ts';

const POLICY =
  "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; connect-src 'self'; manifest-src 'self'; worker-src 'self'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'";

export interface FixtureOptions extends PlantOptions {
  /** Where the bundled dashboard is. */
  readonly files: string;
  readonly port?: number;
}

export interface FixtureServer {
  readonly address: string;
  /** Nobody is signed in from now on. */
  endSessions(): void;
  /** A hold more, told to all screens at once. */
  raiseHold(): HoldView;
  /** No frame comes any more, the connections stay. */
  stopFeed(): void;
  resumeFeed(): void;
  /** Advice is a first answer, the first so many times that it is asked for. */
  firstAnswers(times: number): void;
  /** The window that was asked for comes, and one more with it in the list. */
  waveComes(): void;
  /** Nobody's sensor can be asked, and why. */
  refuseWaves(why: string): void;
  /** How long the gate thinks before it answers. */
  slowGate(ms: number): void;
  /** Each request is answered with this status, or none of them. */
  failAll(status: number | undefined): void;
  stop(): Promise<void>;
}

export async function startFixtureServer(options: FixtureOptions): Promise<FixtureServer> {
  const plant = new LivingPlant(options);
  const app = fastify();
  await app.register(fastifyWebsocket);
  await app.register(fastifyStatic, { root: options.files, wildcard: false });
  const page = await readFile(join(options.files, 'index.html'), 'utf8');
  app.addHook('onSend', async (_request, reply) => void reply.header('content-security-policy', POLICY));
  app.addHook('preValidation', async (request, reply) => {
    if (!request.url.startsWith('/api/')) return;
    if (plant.failing !== undefined) return reply.code(plant.failing).send(problem(plant.failing, 'Made to fail.'));
    const signingIn =
      request.url === '/api/first-user' || (request.url === '/api/session' && request.method === 'POST');
    if (!plant.signedIn && !signingIn) return reply.code(401).send(problem(401, 'Nobody is signed in.'));
  });
  sessionRoutes(app, plant);
  historyRoutes(app, plant);
  holdRoutes(app, plant);
  balanceRoutes(app, plant);
  waveRoutes(app, plant);
  limitsRoutes(app, plant);
  aheadRoutes(app, plant);
  headroomRoutes(app, plant);
  monthRoutes(app, plant);
  answeringRoutes(app, plant);
  plantRoutes(app, plant);
  tryOutRoutes(app, plant);
  recordRoutes(app, plant);
  app.get('/api/feed', { websocket: true }, (socket) => plant.join(socket));
  app.setNotFoundHandler((request, reply) =>
    request.url.startsWith('/api/')
      ? reply.code(404).send(problem(404, 'There is none.'))
      : reply.type('text/html').send(page),
  );
  const address = await app.listen({ host: '127.0.0.1', port: options.port ?? 0 });
  const beat = setInterval(() => plant.beat(), options.spindles > 200 ? 250 : 1000);
  return {
    address,
    endSessions: () => {
      plant.signedIn = false;
      plant.close(4401);
    },
    raiseHold: () => {
      const spindleId = [...plant.rows.keys()][2] ?? 'S-03';
      const hold = heldLoadedHold(plant.now(), spindleId);
      plant.tell([], [hold]);
      return hold;
    },
    stopFeed: () => void (plant.telling = false),
    resumeFeed: () => void (plant.telling = true),
    firstAnswers: (times) => void (plant.firstAnswers = times),
    waveComes: () => {
      plant.wavesCome += 1;
      plant.waveAskedAt = undefined;
    },
    refuseWaves: (why) => void (plant.waveRefused = why),
    slowGate: (ms) => void (plant.gateMs = ms),
    failAll: (status) => void (plant.failing = status),
    stop: async () => {
      clearInterval(beat);
      plant.close(1001);
      await app.close();
    },
  };
}

function problem(status: number, title: string) {
  return { type: 'about:blank', title, status };
}

function sessionRoutes(app: FastifyInstance, plant: LivingPlant): void {
  const person = () => ({ name: 'e-saar', roles: plant.roles });
  app.get('/api/session', () => person());
  app.post('/api/session', (request, reply) => {
    const { password } = request.body as { password: string };
    if (password === 'wrong') return reply.code(401).send(problem(401, 'Wrong.'));
    plant.signedIn = true;
    return person();
  });
  app.post('/api/first-user', () => {
    plant.signedIn = true;
    return person();
  });
  app.delete('/api/session', (_request, reply) => {
    plant.signedIn = false;
    return reply.code(204).send();
  });
}

type Asked = Record<string, string>;

function stretchOf(request: FastifyRequest): { from: number; to: number; points: number } {
  const { from, to, points } = request.query as Asked;
  return { from: Number(from), to: Number(to), points: Number(points) };
}

function historyRoutes(app: FastifyInstance, plant: LivingPlant): void {
  app.get('/api/floor', () => plant.floor());
  app.get('/api/ribbons', (request) => inventedRibbons([...plant.rows.values()], stretchOf(request)));
  app.get<{ Params: { id: string } }>('/api/spindles/:id', (request, reply) => {
    const row = plant.rows.get(request.params.id);
    return row === undefined
      ? reply.code(404).send(problem(404, 'No such spindle.'))
      : withWindows(inventedSpindle(row, plant.now()), plant);
  });
  app.get<{ Params: { id: string } }>('/api/spindles/:id/series', (request, reply) => {
    const row = plant.rows.get(request.params.id);
    const { quantity } = request.query as { quantity: SeriesQuantity };
    return row === undefined
      ? reply.code(404).send(problem(404, 'No such spindle.'))
      : inventedSeries(row, quantity, stretchOf(request));
  });
  app.get('/api/intake', () => plant.floor().intake);
  app.get('/api/rejects', (request) =>
    plant.rejects.filter(({ state }) => state === (request.query as Asked)['state']),
  );
  app.post<{ Params: { position: string } }>('/api/rejects/:position/retry', (request, reply) => {
    const position = Number(request.params.position);
    if (position % 2 === 0)
      return reply.code(422).send(problem(422, 'It still cannot be read: mend the device first.'));
    plant.rejects = plant.rejects.map((reject) =>
      reject.position === position ? { ...reject, state: 'retried' } : reject,
    );
    return {};
  });
  app.get<{ Params: { position: string } }>('/api/journal/:position', (request) => ({
    entry: inventedWaveEntry(Number(request.params.position)) ?? {
      position: Number(request.params.position),
      kind: 'result',
      device: 'bench-1',
      data: {
        assemblyId: 'A-0108',
        buildId: 'B-3',
        frame: 'machine',
        readings: [
          { indexDeg: 0, planes: [{ amountGmm: 4.3, angleDeg: 302 }] },
          { indexDeg: 180, planes: [{ amountGmm: 3.9, angleDeg: 138 }] },
        ],
      },
    },
    outcomes: [],
  }));
}

/** The same, as it is told before the search has come to its end. */
function unproven(advice: Advice): Advice {
  return {
    ...advice,
    plans: advice.plans.map((plan) => ({ ...plan, search: 'first-answer', leastPossibleGmm: 0.01 })),
  };
}

function balanceRoutes(app: FastifyInstance, plant: LivingPlant): void {
  const rows = () => inventedAssemblies([...plant.rows.values()], plant.begunAt);
  const views = () =>
    rows().map((row) => {
      const view = inventedAssembly(row, plant.begunAt, row.assemblyId === 'A-0105');
      const recorded = plant.corrections.filter(({ assemblyId }) => assemblyId === row.assemblyId);
      return { ...view, corrections: [...view.corrections, ...recorded.map(({ view: one }) => one)] };
    });
  const viewOf = (id: string) => views().find(({ row }) => row.assemblyId === id);
  app.get('/api/assemblies', rows);
  app.get<{ Params: { id: string } }>(
    '/api/assemblies/:id',
    (request, reply) => viewOf(request.params.id) ?? reply.code(404).send(problem(404, 'No such assembly.')),
  );
  app.get<{ Params: { id: string } }>('/api/assemblies/:id/advice', (request, reply) => {
    const view = viewOf(request.params.id);
    const advice = view === undefined ? undefined : inventedAdvice(view);
    plant.adviceAsked += 1;
    if (advice !== undefined && plant.firstAnswers >= plant.adviceAsked) return unproven(advice);
    return advice ?? reply.code(404).send(problem(404, 'Nothing has been measured of it.'));
  });
  app.post<{ Params: { id: string } }>('/api/assemblies/:id/corrections', (request, reply) => {
    const correction = request.body as Omit<Correction, 'assemblyId'>;
    if (correction.note === 'refuse it') return reply.code(409).send(problem(409, 'This build is no longer in force.'));
    const { buildId, planId, steps, note } = correction;
    const view = {
      position: 4901,
      at: plant.now(),
      by: 'e-saar',
      buildId,
      steps,
      planes: [],
      remarks: [],
      ...(planId === undefined ? {} : { planId }),
      ...(note === undefined ? {} : { note }),
    };
    plant.corrections.push({ assemblyId: request.params.id, view });
    return {};
  });
  app.get('/api/plants', () => inventedGroup(plant.now(), [...plant.rows.values()].length));
  app.get('/api/tool-room', () => inventedToolRoom(plant.begunAt, views(), plant.doubtLifted));
  app.post('/api/benches/:id/doubt-lifted', () => {
    plant.doubtLifted = true;
    return {};
  });
}

function holdRoutes(app: FastifyInstance, plant: LivingPlant): void {
  app.get('/api/holds', (request) => {
    const open = (request.query as Asked)['state'] === 'open';
    return [...plant.holds.values()].filter((hold) => hold.open === open);
  });
  app.get<{ Params: { id: string } }>(
    '/api/holds/:id',
    (request, reply) => plant.holds.get(request.params.id) ?? reply.code(404).send(problem(404, 'No such hold.')),
  );
  app.get<{ Params: { id: string } }>('/api/holds/:id/travels', (request, reply) => {
    const { id } = request.params;
    return id.startsWith('H-4610')
      ? inventedTravels(id, plant.now())
      : reply.code(404).send(problem(404, 'It is about no pair.'));
  });
  app.post<{ Params: { id: string } }>('/api/spindles/:id/work', (request) => {
    const { from, until, ...work } = request.body as { workId: string; from: string; until: string; note: string };
    const spindleId = request.params.id;
    const planned = { ...work, spindleId, from: Date.parse(from), until: Date.parse(until), by: 'e-saar', now: true };
    const held = [...plant.holds.values()].filter(({ subject }) => subject.id === spindleId);
    plant.tell(
      [],
      held.map((hold) => ({ ...hold, work: [planned] })),
    );
    return {};
  });
  app.post<{ Params: { id: string } }>('/api/holds/:id/acts', (request, reply) => {
    const hold = plant.holds.get(request.params.id);
    if (hold === undefined) return reply.code(404).send(problem(404, 'No such hold.'));
    const done = acted(hold, request.body as { act: HoldActName; note?: string }, plant.now());
    plant.tell([], [done]);
    return done;
  });
  app.get('/api/gate', async (request) => {
    const { assemblyId = '', spindleId = '', speedRpm } = request.query as Asked;
    if (plant.gateMs > 0) await new Promise((resolve) => setTimeout(resolve, plant.gateMs));
    return gateAnswer(assemblyId, spindleId, speedRpm === undefined ? 18_000 : Number(speedRpm));
  });
}
