// What every answer tells the browser: only our own scripts, styles and sockets, in no frame, with no address passed on.
import helmet from '@fastify/helmet';
import type { App } from './app.ts';

export async function addHeaders(app: App, { https }: { https: boolean }): Promise<void> {
  await app.register(helmet, {
    contentSecurityPolicy: {
      useDefaults: false,
      directives: {
        defaultSrc: ["'none'"],
        scriptSrc: ["'self'"],
        styleSrc: ["'self'"],
        imgSrc: ["'self'", 'data:'],
        fontSrc: ["'self'"],
        connectSrc: ["'self'"],
        manifestSrc: ["'self'"],
        workerSrc: ["'self'"],
        baseUri: ["'none'"],
        formAction: ["'self'"],
        frameAncestors: ["'none'"],
      },
    },
    referrerPolicy: { policy: 'no-referrer' },
    frameguard: { action: 'deny' },
    crossOriginOpenerPolicy: { policy: 'same-origin' },
    crossOriginResourcePolicy: { policy: 'same-origin' },
    // Said over plain HTTP it means nothing, and loopback has no certificate.
    strictTransportSecurity: https && { maxAge: 31_536_000, includeSubDomains: false },
  });
  // Answers of the interface are about one person and one moment.
  app.addHook('onRequest', async (request, reply) => {
    if (request.url.startsWith('/api/')) reply.header('cache-control', 'no-store');
  });
}
