// Kept in the data directory: made at the first start, the server's part anew when it ends soon or its names are others.
import { X509Certificate } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { isIP } from 'node:net';
import { join } from 'node:path';
import { MILLISECONDS_A_DAY, type Instant } from '../../shared/time.ts';
import { makeAuthority, makeServer, type Pair } from './signing.ts';

export interface OwnCertificate {
  /** What people and devices are to trust, in PEM; no secret. */
  readonly authority: string;
  readonly authorityFile: string;
  /** Its SHA-256, as browsers show it: "3F:A1:…". */
  readonly fingerprint: string;
  /** The server's certificate and private key, in PEM. */
  readonly cert: string;
  readonly key: string;
  /** The names and addresses that it is for. */
  readonly names: readonly string[];
  readonly endsAt: Instant;
}

export interface OwnCertificateAsked {
  readonly dataDir: string;
  readonly plant: string;
  /** Host names and addresses by which the service is reached. */
  readonly names: readonly string[];
  readonly at: Instant;
}

const FOLDER = 'certificates';
const AUTHORITY = 'authority';
const SERVER = 'server';
/** Trusted once by hand on each tablet: long. */
const AUTHORITY_DAYS = 3650;
/** Browsers take none that is for longer than 398 days (CA/Browser Forum baseline requirements 6.3.2, from memory). */
const SERVER_DAYS = 397;
/** A server that is started every half year never meets the end. */
const SERVER_LEFT_DAYS_MIN = 200;
/** Beyond it tablets would have to trust a new one in the middle of a server's time. */
const AUTHORITY_LEFT_DAYS_MIN = SERVER_DAYS;

export async function openOwnCertificate({ dataDir, plant, names, at }: OwnCertificateAsked): Promise<OwnCertificate> {
  const folder = join(dataDir, FOLDER);
  mkdirSync(folder, { recursive: true, mode: 0o700 });
  const kept = read(folder, AUTHORITY);
  const authority =
    kept !== undefined && daysLeft(kept, at) > AUTHORITY_LEFT_DAYS_MIN
      ? kept
      : write(
          folder,
          AUTHORITY,
          await makeAuthority({ commonName: `Counterpoise ${plant}`, at, days: AUTHORITY_DAYS }),
        );
  const before = read(folder, SERVER);
  const server =
    before !== undefined && isGood(before, { authority, names, at })
      ? before
      : write(
          folder,
          SERVER,
          await makeServer(authority, names, { commonName: names[0] ?? plant, at, days: SERVER_DAYS }),
        );
  return {
    authority: authority.certificate,
    authorityFile: filesOf(folder, AUTHORITY).certificate,
    fingerprint: new X509Certificate(authority.certificate).fingerprint256,
    // The whole chain: a device that trusts the authority alone needs no more.
    cert: server.certificate + authority.certificate,
    key: server.key,
    names,
    endsAt: endOf(server),
  };
}

const endOf = ({ certificate }: Pair): Instant => Date.parse(new X509Certificate(certificate).validTo);
const daysLeft = (pair: Pair, at: Instant): number => (endOf(pair) - at) / MILLISECONDS_A_DAY;

function isGood(
  server: Pair,
  { authority, names, at }: { readonly authority: Pair; readonly names: readonly string[]; readonly at: Instant },
): boolean {
  const certificate = new X509Certificate(server.certificate);
  const signer = new X509Certificate(authority.certificate);
  return (
    certificate.verify(signer.publicKey) &&
    daysLeft(server, at) > SERVER_LEFT_DAYS_MIN &&
    names.every((name) => isFor(certificate, name))
  );
}

const isFor = (certificate: X509Certificate, name: string): boolean =>
  (isIP(name) === 0 ? certificate.checkHost(name) : certificate.checkIP(name)) !== undefined;

/** Undefined while there is none, or one of the two is missing. */
function read(folder: string, name: string): Pair | undefined {
  const files = filesOf(folder, name);
  if (!existsSync(files.certificate) || !existsSync(files.key)) return undefined;
  return { certificate: readFileSync(files.certificate, 'utf8'), key: readFileSync(files.key, 'utf8') };
}

/** Each whole or not at all: a start that is cut off leaves none that does not fit its key, for the key is there first. */
function write(folder: string, name: string, pair: Pair): Pair {
  const files = filesOf(folder, name);
  for (const part of ['key', 'certificate'] as const) {
    const unready = `${files[part]}.new`;
    writeFileSync(unready, pair[part], { mode: 0o600 });
    renameSync(unready, files[part]);
  }
  return pair;
}

const filesOf = (folder: string, name: string) => ({
  certificate: join(folder, `${name}.pem`),
  key: join(folder, `${name}-key.pem`),
});
