// A mail server on loopback that speaks SMTP as others do, with TLS and users where a test wants them, and keeps what it took.
import { SMTPServer } from 'smtp-server';
import { LOOPBACK } from './loopback.ts';

export interface Mailed {
  readonly from: string;
  readonly to: readonly string[];
  /** Headers and text, as they came. */
  readonly raw: string;
  readonly secure: boolean;
  readonly user: string | undefined;
}

export interface MailServer {
  readonly port: number;
  readonly mails: readonly Mailed[];
  close(): Promise<void>;
}

export interface MailServerStart {
  readonly tls?: { readonly key: string; readonly cert: string };
  readonly user?: { readonly name: string; readonly password: string };
  /** Addresses that it does not know. */
  readonly unknown?: readonly string[];
  /** Never answers a mail that came. */
  readonly silent?: boolean;
}

export async function startMailServer({
  tls,
  user,
  unknown = [],
  silent = false,
}: MailServerStart = {}): Promise<MailServer> {
  const mails: Mailed[] = [];
  const server = new SMTPServer({
    ...(tls === undefined ? { disabledCommands: user === undefined ? ['STARTTLS', 'AUTH'] : ['STARTTLS'] } : tls),
    authOptional: user === undefined,
    logger: false,
    onAuth: ({ username, password }, _session, done) => {
      if (username === user?.name && password === user?.password) done(null, { user: username });
      else done(new Error('535 no such user or password'));
    },
    onRcptTo: ({ address }, _session, done) => {
      done(unknown.includes(address) ? new Error('no such mailbox here') : null);
    },
    onData: (stream, session, done) => {
      const chunks: Buffer[] = [];
      stream.on('data', (chunk: Buffer) => chunks.push(chunk));
      stream.on('end', () => {
        const { mailFrom, rcptTo } = session.envelope;
        mails.push({
          from: mailFrom === false ? '' : mailFrom.address,
          to: rcptTo.map(({ address }) => address),
          raw: Buffer.concat(chunks).toString('utf8'),
          secure: session.secure,
          user: typeof session.user === 'string' ? session.user : undefined,
        });
        if (!silent) done();
      });
    },
  });
  server.on('error', () => undefined);
  await new Promise<void>((resolve) => server.listen(0, LOOPBACK, resolve));
  const address = server.server.address();
  if (address === null || typeof address === 'string') throw new Error('a TCP server has a port');
  return { port: address.port, mails, close: () => new Promise((resolve) => server.close(resolve)) };
}
