// The Fastify app as our routes know it: typed by zod, every route under /api says who may use it, requests carry a person.
import type { IncomingMessage, ServerResponse } from 'node:http';
import type { FastifyBaseLogger, FastifyInstance, RawServerDefault } from 'fastify';
import type { ZodTypeProvider } from 'fastify-type-provider-zod';
import type { Role } from '../../shared/rights.ts';
import type { AccessStore, Person } from '../access/index.ts';
import type { GatewayLimits } from './limits.ts';
import type { NoticePort, PlantPort, SeriesPort, TryOutPort, VerifyPort } from './ports.ts';

export type App = FastifyInstance<
  RawServerDefault,
  IncomingMessage,
  ServerResponse,
  FastifyBaseLogger,
  ZodTypeProvider
>;

/** `anyone` needs no session; a list needs one of these roles; the empty list, any of them. */
export type Who = 'anyone' | readonly Role[];

/** Signed in, with whatever role. */
export const SIGNED_IN: readonly Role[] = [];

declare module 'fastify' {
  interface FastifyContextConfig {
    who?: Who;
  }
  interface FastifyRequest {
    /** Set by the guard on every route that is not for anyone. */
    person: Person | undefined;
    sessionToken: string | undefined;
  }
}

export interface PartReady {
  readonly part: string;
  /** Whether people and devices can be served; a part that is lame may be, with `amiss`. */
  readonly ready: boolean;
  /** What an operator has to know, in words. */
  readonly amiss?: string;
}

/** What routes are given; each takes what it needs. */
export interface Parts {
  readonly plant: PlantPort;
  readonly series: SeriesPort;
  readonly access: AccessStore;
  readonly notices: NoticePort;
  readonly tryOuts: TryOutPort;
  readonly verifying: VerifyPort;
  readonly limits: GatewayLimits;
  readonly publicOrigin: string | undefined;
}
