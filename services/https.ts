// Who can hear what: whether the dashboard and the devices are reached by TLS, and with which certificate.
import { readFileSync } from 'node:fs';
import { hostname, networkInterfaces } from 'node:os';
import type { Clock } from '../shared/time.ts';
import type { OwnCertificate } from './certificates/index.ts';
import { isLoopback, type Settings } from './settings.ts';

export interface Tls {
  readonly cert: string | Uint8Array;
  readonly key: string | Uint8Array;
}

export interface Secured {
  /** Undefined where it answers without. */
  readonly http: Tls | undefined;
  readonly mqtt: Tls | undefined;
  /** Where the service signs for itself. */
  readonly own: OwnCertificate | undefined;
}

export async function secure(settings: Settings, clock: Clock): Promise<Secured> {
  const own = settings.ownCertificate ? await ownOf(settings, clock) : undefined;
  const http = given(settings.httpCertFile, settings.httpKeyFile) ?? own;
  const mqtt = given(settings.mqttCertFile, settings.mqttKeyFile) ?? (isLoopback(settings.mqttHost) ? undefined : own);
  return { http, mqtt, own };
}

async function ownOf(settings: Settings, clock: Clock): Promise<OwnCertificate> {
  // What makes certificates is large, and few need it.
  const { openOwnCertificate } = await import('./certificates/index.ts');
  const { data: dataDir, plant } = settings;
  return openOwnCertificate({ dataDir, plant, names: namesOf(settings), at: clock.now() });
}

function given(certFile: string | undefined, keyFile: string | undefined): Tls | undefined {
  if (certFile === undefined || keyFile === undefined) return undefined;
  return { cert: readFileSync(certFile), key: readFileSync(keyFile) };
}

/** This computer by its name, by that of its public address, and by every address that it has now. */
function namesOf({ publicUrl, httpHost, mqttHost }: Settings): readonly string[] {
  const addresses = Object.values(networkInterfaces()).flatMap((found = []) => found.map(({ address }) => address));
  const spoken = [httpHost, mqttHost].filter((host) => host !== '0.0.0.0' && host !== '::');
  const publicHost = publicUrl === undefined ? [] : [new URL(publicUrl).hostname];
  return [...new Set([...publicHost, hostname(), 'localhost', '127.0.0.1', '::1', ...spoken, ...addresses])].filter(
    // A link's own address is written with the link's name, which no certificate can say.
    (name) => name !== '' && !name.startsWith('fe80:'),
  );
}
