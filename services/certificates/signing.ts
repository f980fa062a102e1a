// Certificates as X.509 has them (RFC 5280): an authority that signs, and a server's for its names.
import 'reflect-metadata';
import { KeyObject, randomBytes, webcrypto } from 'node:crypto';
import { isIP } from 'node:net';
import {
  AuthorityKeyIdentifierExtension,
  BasicConstraintsExtension,
  ExtendedKeyUsage,
  ExtendedKeyUsageExtension,
  KeyUsageFlags,
  KeyUsagesExtension,
  SubjectAlternativeNameExtension,
  SubjectKeyIdentifierExtension,
  X509Certificate,
  X509CertificateGenerator,
} from '@peculiar/x509';
import { MILLISECONDS_A_DAY, type Instant } from '../../shared/time.ts';

/** ECDSA on P-256 with SHA-256: what every browser and small device of the last ten years reads. */
const ALGORITHM = { name: 'ECDSA', namedCurve: 'P-256', hash: 'SHA-256' } as const;
/** RFC 5280, 4.1.2.2: at most 20 octets, positive. */
const SERIAL_BYTES = 16;
/** A clock that is a day behind still finds it valid. */
const BEFORE_MS = MILLISECONDS_A_DAY;

/** Both in PEM. */
export interface Pair {
  readonly certificate: string;
  readonly key: string;
}

export interface Named {
  readonly commonName: string;
  readonly at: Instant;
  readonly days: number;
}

export async function makeAuthority({ commonName, at, days }: Named): Promise<Pair> {
  const keys = await newKeys();
  const certificate = await X509CertificateGenerator.createSelfSigned({
    ...validity(at, days),
    name: [{ CN: [commonName] }],
    keys,
    signingAlgorithm: ALGORITHM,
    extensions: [
      // It signs servers, and no further authority.
      new BasicConstraintsExtension(true, 0, true),
      new KeyUsagesExtension(KeyUsageFlags.keyCertSign | KeyUsageFlags.cRLSign, true),
      await SubjectKeyIdentifierExtension.create(keys.publicKey),
    ],
  });
  return pairOf(certificate, keys);
}

/** `names` are host names and addresses, all of which it is for. */
export async function makeServer(authority: Pair, names: readonly string[], named: Named): Promise<Pair> {
  const keys = await newKeys();
  const issuer = new X509Certificate(authority.certificate);
  const certificate = await X509CertificateGenerator.create({
    ...validity(named.at, named.days),
    subject: [{ CN: [named.commonName] }],
    issuer: issuer.subject,
    publicKey: keys.publicKey,
    signingKey: await keyOf(authority.key),
    signingAlgorithm: ALGORITHM,
    extensions: [
      new BasicConstraintsExtension(false, undefined, true),
      new KeyUsagesExtension(KeyUsageFlags.digitalSignature, true),
      new ExtendedKeyUsageExtension([ExtendedKeyUsage.serverAuth]),
      new SubjectAlternativeNameExtension(
        names.map((value) => ({ type: isIP(value) === 0 ? ('dns' as const) : ('ip' as const), value })),
      ),
      await SubjectKeyIdentifierExtension.create(keys.publicKey),
      await AuthorityKeyIdentifierExtension.create(await issuer.publicKey.export()),
    ],
  });
  return pairOf(certificate, keys);
}

const validity = (at: Instant, days: number) => ({
  serialNumber: serial(),
  notBefore: new Date(at - BEFORE_MS),
  notAfter: new Date(at + days * MILLISECONDS_A_DAY),
});

function serial(): string {
  const bytes = randomBytes(SERIAL_BYTES);
  // The first bit is the sign, and a leading zero would be dropped.
  bytes[0] = ((bytes[0] ?? 0) & 0x7f) | 0x40;
  return bytes.toString('hex');
}

const newKeys = () => webcrypto.subtle.generateKey(ALGORITHM, true, ['sign', 'verify']);

function keyOf(pem: string) {
  const der = Buffer.from(pem.replaceAll(/-----[^-]+-----|\s/g, ''), 'base64');
  return webcrypto.subtle.importKey('pkcs8', der, ALGORITHM, false, ['sign']);
}

const pairOf = (certificate: X509Certificate, { privateKey }: webcrypto.CryptoKeyPair): Pair => ({
  certificate: `${certificate.toString('pem')}\n`,
  key: KeyObject.from(privateKey).export({ type: 'pkcs8', format: 'pem' }).toString(),
});
