// Puts the gateway together. Listening is somebody else's business.
import cookie from '@fastify/cookie';
import rateLimit from '@fastify/rate-limit';
import websocket from '@fastify/websocket';
import Fastify, { LogController, type FastifyBaseLogger } from 'fastify';
import type { ZodTypeProvider } from 'fastify-type-provider-zod';
import type { PlantInGroup } from '../../shared/group.ts';
import type { AccessStore } from '../access/index.ts';
import { addDeviceRoutes, addRecordRoutes, addUserRoutes } from './admin-routes.ts';
import type { App, PartReady, Parts } from './app.ts';
import { addConnectingRoute } from './connecting-route.ts';
import { addDashboard } from './dashboard-files.ts';
import { addDeviceWindowRoute } from './device-window-route.ts';
import { createFeed } from './feed.ts';
import { addFeedRoute } from './feed-route.ts';
import { addFloorRoutes, addSeriesRoutes } from './floor-routes.ts';
import { addGuard } from './guard.ts';
import { addHeaders } from './headers.ts';
import { addAheadRoutes } from './ahead-routes.ts';
import { addHeadroomRoutes } from './headroom-routes.ts';
import { addGroupRoutes } from './group-routes.ts';
import { addHealthRoutes, type Metric } from './health-routes.ts';
import { addAnsweringRoutes } from './answering-routes.ts';
import { addHoldRoutes } from './hold-routes.ts';
import { addLimitsImportRoute } from './limits-import-route.ts';
import { addIntakeRoutes } from './intake-routes.ts';
import { GATEWAY_LIMITS, type GatewayLimits } from './limits.ts';
import { addOpenApi } from './openapi.ts';
import { addMonthRoutes } from './month-routes.ts';
import type { NoticePort, PlantPort, SeriesPort, TryOutPort, VerifyPort } from './ports.ts';
import { addCertificate, httpsOf } from './certificate.ts';
import { answerWithProblem, HttpProblem, requestReader } from './problems.ts';
import { addLineRoutes, addVerificationRoutes } from './record-routes.ts';
import { addRuleRoutes } from './rule-routes.ts';
import { addSessionRoutes } from './session-routes.ts';
import { addToolRoomRoutes } from './tool-room-routes.ts';
import { addTryOutRoutes } from './try-out-routes.ts';
import { addWindowRoutes } from './window-routes.ts';

export interface GatewaySettings {
  /** The address people use, where it is not the one this process listens at; https:// makes cookies secure. */
  readonly publicUrl?: string | undefined;
  /** Believe what a proxy says about address and protocol; only behind one. */
  readonly trustProxy?: boolean | undefined;
  /** What signed the certificate of the service, in PEM, for people and devices that are to trust it. */
  readonly authority?: string | undefined;
  /** What another plant's service has to show to be told how this one stands; without it nobody is. */
  readonly standingToken?: string | undefined;
  /** Needed for /metrics when set; without it only this machine may look. */
  readonly metricsToken?: string | undefined;
  readonly notices?: NoticePort | undefined;
  /** Asked by /readyz; a part that stops says so first. */
  readonly ready?: (() => Promise<readonly PartReady[]>) | undefined;
  readonly moreMetrics?: (() => readonly Metric[]) | undefined;
  readonly version?: string | undefined;
  /** Where devices connect, as mqtt://host:port; nothing where that is an external broker, or not yet. */
  readonly devicesUrl?: (() => string | undefined) | undefined;
  readonly limits?: Partial<GatewayLimits> | undefined;
}

export interface GatewayOptions {
  readonly plant: PlantPort;
  readonly series: SeriesPort;
  /** What was heard of other plants. */
  readonly others?: () => readonly PlantInGroup[];
  /** Without it nothing is tried out, and whoever asks is told so. */
  readonly tryOuts?: TryOutPort;
  /** Without it nothing is checked, and whoever asks is told so. */
  readonly verifying?: VerifyPort;
  readonly access: AccessStore;
  readonly settings?: GatewaySettings;
  /** Without it, it answers in the clear. */
  readonly tls?: Tls | undefined;
  /** The built dashboard; without it the interface alone is served. */
  readonly dashboardDir?: string | undefined;
  readonly log: FastifyBaseLogger;
}

/** PEM. */
interface Tls {
  readonly cert: string | Uint8Array;
  readonly key: string | Uint8Array;
}

export type Gateway = App;

const MINUTE_MS = 60_000;

const NOTHING_VERIFIED: VerifyPort = {
  view: () => ({ state: 'none', percent: 0 }),
  start: () => undefined,
  cancel: async () => ({ state: 'none', percent: 0 }),
};

const NO_TRY_OUTS: TryOutPort = {
  start: async () => ({ kind: 'busy' }),
  view: () => undefined,
  cancel: async () => undefined,
};

export async function createGateway(options: GatewayOptions): Promise<Gateway> {
  const { access, plant, log, settings = {} } = options;
  const limits: GatewayLimits = { ...GATEWAY_LIMITS, ...settings.limits };
  const publicOrigin = settings.publicUrl === undefined ? undefined : new URL(settings.publicUrl).origin;
  const app = bareApp({ log, limits, trustProxy: settings.trustProxy ?? false, tls: options.tls });
  app.setErrorHandler(answerWithProblem);
  await app.register(cookie);
  // Before the guard, which needs to know whether a request is an upgrade.
  const feed = createFeed({ plant, access, limits, log });
  await app.register(websocket, {
    options: { maxPayload: limits.feedPayloadBytesMax, perMessageDeflate: false },
    preClose: (done) => {
      feed.close();
      app.websocketServer.close();
      done();
    },
  });
  // Who goes back to a service in the clear must not be locked out by a certificate that it made itself.
  const isHttps = publicOrigin?.startsWith('https://') ?? options.tls !== undefined;
  await addHeaders(app, { https: isHttps && settings.authority === undefined });
  await app.register(rateLimit, {
    max: limits.requestsPerMinuteMax,
    timeWindow: MINUTE_MS,
    errorResponseBuilder: (_request, { ttl }) => new HttpProblem('too-many', { retryAfterS: Math.ceil(ttl / 1000) }),
  });
  addGuard(app, { access, publicOrigin });
  await addOpenApi(app, settings.version ?? '0');
  const notices = settings.notices ?? { test: () => undefined };
  const { series, tryOuts = NO_TRY_OUTS, verifying = NOTHING_VERIFIED } = options;
  addRoutes(app, { plant, series, tryOuts, verifying, access, notices, limits, publicOrigin });
  const { others = () => [] } = options;
  addGroupRoutes(app, { plant, standingToken: settings.standingToken, others });
  addConnectingRoute(app, settings);
  addFeedRoute(app, feed);
  addHealthRoutes(app, {
    plant,
    feed,
    ready: settings.ready ?? (() => plantAnswers(plant)),
    moreMetrics: settings.moreMetrics ?? (() => []),
    metricsToken: settings.metricsToken,
  });
  addCertificate(app, settings.authority);
  await addDashboard(app, options.dashboardDir);
  await app.ready();
  return app;
}

interface Bare {
  readonly log: FastifyBaseLogger;
  readonly limits: GatewayLimits;
  readonly trustProxy: boolean;
  readonly tls: Tls | undefined;
}

function bareApp({ log, limits, trustProxy, tls }: Bare): App {
  const app = Fastify({
    ...(tls === undefined ? {} : { https: httpsOf(tls) }),
    loggerInstance: log,
    logController: new LogController({ disableRequestLogging: true }),
    // An address that cannot be read is refused before there is a route.
    frameworkErrors: (error, request, reply) => void answerWithProblem(error, request, reply),
    bodyLimit: limits.bodyBytesMax,
    requestTimeout: limits.requestMs,
    connectionTimeout: limits.requestMs,
    trustProxy,
    forceCloseConnections: true,
    routerOptions: { maxParamLength: 200 },
  }).withTypeProvider<ZodTypeProvider>();
  app.server.maxConnections = limits.connectionsMax;
  app.setValidatorCompiler(requestReader);
  // Answers are made by typed code from our own views; checking each again would cost more than making it.
  app.setSerializerCompiler(() => (answer) => JSON.stringify(answer));
  // A form on another site can send text; only scripts of our own origin can send JSON.
  app.removeContentTypeParser('text/plain');
  return app;
}

function addRoutes(app: App, parts: Parts): void {
  addSessionRoutes(app, parts);
  addFloorRoutes(app, parts);
  addSeriesRoutes(app, parts);
  addWindowRoutes(app, parts);
  addDeviceWindowRoute(app, parts);
  addLimitsImportRoute(app, parts);
  addRuleRoutes(app, parts);
  addTryOutRoutes(app, parts);
  addHoldRoutes(app, parts);
  addAnsweringRoutes(app, parts);
  addToolRoomRoutes(app, parts);
  addAheadRoutes(app, parts);
  addHeadroomRoutes(app, parts);
  addMonthRoutes(app, parts);
  addIntakeRoutes(app, parts);
  addUserRoutes(app, parts);
  addDeviceRoutes(app, parts);
  addRecordRoutes(app, parts);
  addLineRoutes(app, parts);
  addVerificationRoutes(app, parts);
}

async function plantAnswers(plant: PlantPort): Promise<readonly PartReady[]> {
  await plant.intake();
  return [{ part: 'plant', ready: true }];
}
