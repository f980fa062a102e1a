// What people and other programs of the plant talk to: REST, the feed, the dashboard's files.
export { createGateway, type Gateway, type GatewayOptions, type GatewaySettings } from './gateway.ts';
export type { PartReady } from './app.ts';
export { SESSION_OVER } from './feed.ts';
export type { Metric } from './health-routes.ts';
export { GATEWAY_LIMITS, type GatewayLimits } from './limits.ts';
export type {
  ActDone,
  NoticePort,
  PlantPort,
  RetryDone,
  SeriesPort,
  Stretch,
  TryOutPort,
  VerifyPort,
} from './ports.ts';
export { PROBLEM_TYPE } from './problems.ts';
