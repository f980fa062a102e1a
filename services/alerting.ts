// What the alerts are given by the service: where notices go, the holds, and how a try comes on record.
import { join } from 'node:path';
import type { Logger } from 'pino';
import type { Actor } from '../shared/acts.ts';
import { SERVICE_NAME } from '../shared/recording.ts';
import { MILLISECONDS_A_DAY, type Clock } from '../shared/time.ts';
import { startAlerts, type Alerts, type AlertSettings } from './alerts/index.ts';
import type { PlantClient, Told } from './plant/index.ts';
import type { Settings } from './settings.ts';

export interface AlertingParts {
  readonly settings: Settings;
  readonly plant: Pick<PlantClient, 'call'>;
  readonly clock: Clock;
  readonly log: Logger;
  readonly tell: (told: Told) => void;
}

const SERVICE_ACTOR: Actor = { name: SERVICE_NAME, roles: ['service'] };
/** Holds that ended longer ago need no notice any more. */
const ENDED_HOLDS_TOLD_MS = MILLISECONDS_A_DAY;

function mailOf(settings: Settings): Pick<AlertSettings, 'mail'> {
  const { mailServer: server, mailFrom: from, mailTo: to, mailPasswordFile, mailCaFile } = settings;
  if (server === undefined || from === undefined || to === undefined) return {};
  return { mail: { channel: 'mail', server, from, to, passwordFile: mailPasswordFile, caFile: mailCaFile } };
}

export function alertsOf({ settings, plant, clock, log, tell }: AlertingParts): Alerts {
  const { webhookUrl, webhookKeyFile, publicUrl, data, plant: id } = settings;
  const keyFile = webhookKeyFile ?? join(data, 'webhook-key');
  const webhooks = webhookUrl === undefined ? [] : [{ channel: 'webhook', url: webhookUrl, keyFile }];
  return startAlerts(
    { plant: id, webhooks, ...mailOf(settings), ...(publicUrl === undefined ? {} : { dashboard: publicUrl }) },
    {
      // Receivers compare the time of a signature with their own clock.
      clock: { now: Date.now },
      record: async (tried) => {
        const done = await plant.call('act', SERVICE_ACTOR, 'notice-try', tried);
        if (done.kind !== 'invalid') tell(done.told);
      },
      holds: () => plant.call('holdsSince', clock.now() - ENDED_HOLDS_TOLD_MS),
      log,
    },
  );
}
