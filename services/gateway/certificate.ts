// The dashboard by HTTPS, and what tablets are to trust where the service signs for itself.
import type { App } from './app.ts';
import { HttpProblem } from './problems.ts';

interface Pem {
  readonly cert: string | Uint8Array;
  readonly key: string | Uint8Array;
}

const bytesOf = (pem: string | Uint8Array): string | Buffer => (typeof pem === 'string' ? pem : Buffer.from(pem));

export const httpsOf = ({ cert, key }: Pem) =>
  ({ cert: bytesOf(cert), key: bytesOf(key), minVersion: 'TLSv1.2' }) as const;

/** No secret: whoever opens the page has seen it already. Phones and tablets offer to install what comes as this type. */
export function addCertificate(app: App, authority: string | undefined): void {
  app.get('/certificate', { config: { who: 'anyone' }, schema: { hide: true } }, (_request, reply) => {
    if (authority === undefined) throw new HttpProblem('not-found');
    return reply
      .type('application/x-x509-ca-cert')
      .header('content-disposition', 'attachment; filename="counterpoise-authority.crt"')
      .send(authority);
  });
}
