// A self-signed certificate for localhost, made for a test and gone with it.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { makeFolder } from './folder.ts';
import { findProgram, runProgram } from './program.ts';

export interface Certificate {
  readonly cert: string;
  readonly key: string;
  /** The same as files, for programs that want files. */
  readonly certFile: string;
  readonly keyFile: string;
  remove(): void;
}

export async function makeCertificate(): Promise<Certificate> {
  const folder = makeFolder('certificate');
  const [certFile, keyFile] = [join(folder.path, 'cert.pem'), join(folder.path, 'key.pem')];
  const names = 'subjectAltName=DNS:localhost,IP:127.0.0.1';
  const kind = ['-x509', '-newkey', 'ec', '-pkeyopt', 'ec_paramgen_curve:prime256v1', '-nodes', '-days', '2'];
  await runProgram(findProgram('openssl'), {
    args: ['req', ...kind, '-subj', '/CN=localhost', '-addext', names, '-keyout', keyFile, '-out', certFile],
  });
  const read = (file: string): string => readFileSync(file, 'utf8');
  return { cert: read(certFile), key: read(keyFile), certFile, keyFile, remove: () => folder.remove() };
}
