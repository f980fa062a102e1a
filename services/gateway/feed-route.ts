// The feed's one route: session, roles, origin and room are decided before the upgrade, so that nobody refused holds a socket.
import { SIGNED_IN, type App } from './app.ts';
import type { Feed } from './feed.ts';
import { personOf } from './guard.ts';
import { HttpProblem } from './problems.ts';

export function addFeedRoute(app: App, feed: Feed): void {
  app.route({
    method: 'GET',
    url: '/api/feed',
    config: { who: SIGNED_IN, rateLimit: { max: 120, timeWindow: 60_000 } },
    schema: { hide: true },
    preValidation: async (request) => {
      if (!request.ws) throw new HttpProblem('feed-only');
      if (!feed.hasRoomFor(personOf(request).name)) throw new HttpProblem('full', { retryAfterS: 30 });
    },
    handler: () => {
      throw new HttpProblem('feed-only');
    },
    wsHandler: (socket, request) => {
      feed.join({ socket, name: personOf(request).name, token: request.sessionToken ?? '' });
    },
  });
}
