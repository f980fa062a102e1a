// The dashboard's own files: hashed ones for ever, the page itself looked up each time, and the page for every address of its own.
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import fastifyStatic from '@fastify/static';
import type { App } from './app.ts';
import { HttpProblem } from './problems.ts';

/** Vite puts a hash of the content into these files' names. */
const HASHED = /[/\\]assets[/\\]/;
const FOR_EVER = 'public, max-age=31536000, immutable';
const LOOK_EACH_TIME = 'no-cache';
const PAGE = 'index.html';

export async function addDashboard(app: App, folder: string | undefined): Promise<void> {
  const built = folder !== undefined && existsSync(join(folder, PAGE));
  if (built) {
    await app.register(fastifyStatic, {
      root: folder,
      cacheControl: false,
      // Looked for packed it is not found, and then not at all: the page has a way of its own.
      index: false,
      dotfiles: 'ignore',
      // The build lays each file packed beside itself.
      preCompressed: true,
      setHeaders: (reply, path) => {
        reply.header('cache-control', HASHED.test(path) ? FOR_EVER : LOOK_EACH_TIME);
      },
    });
    app.get('/', { schema: { hide: true } }, (_request, reply) => reply.sendFile(PAGE));
  }
  app.setNotFoundHandler({ preHandler: app.rateLimit() }, (request, reply) => {
    const page = request.method === 'GET' && (request.headers.accept ?? '').includes('text/html');
    const { pathname } = new URL(request.url, 'http://host');
    // The dashboard finds its pages by their address; a missing script or picture is missing.
    if (built && page && !pathname.startsWith('/api/') && !pathname.startsWith('/assets/')) return reply.sendFile(PAGE);
    throw new HttpProblem('not-found');
  });
}
