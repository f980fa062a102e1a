// The alerts as a whole: checks the settings, opens each channel with its key, and starts the rounds.
import { readOrMakeKey } from './key-file.ts';
import { Line } from './line.ts';
import { Mail, mailServer } from './mail.ts';
import { isAddress, readAddresses } from './mail-to.ts';
import type { AlertPorts, Alerts } from './ports.ts';
import { Rounds } from './rounds.ts';
import {
  ALERT_LIMITS,
  settingsFaults,
  webhookUrl,
  type AlertLimits,
  type AlertSettings,
  type MailSettings,
} from './settings.ts';
import { afterReal } from './timer.ts';
import { Webhook } from './webhook.ts';

/** Throws where a channel could not work: a plant that believes it is told must not start untold. */
export function startAlerts(settings: AlertSettings, ports: AlertPorts): Alerts {
  const faults = settingsFaults(settings);
  if (faults.length > 0) throw new Error(`alerts: ${faults.join('; ')}`);
  const limits = { ...ALERT_LIMITS, ...settings.limits };
  const lines = settings.webhooks.map((webhook) => openLine(webhook, limits, ports));
  if (settings.mail !== undefined) lines.push(openMail(settings.mail, limits, ports));
  const { plant, dashboard } = settings;
  return new Rounds({ plant, ...(dashboard === undefined ? {} : { dashboard }), limits, lines, ports });
}

function openMail(settings: MailSettings, limits: AlertLimits, ports: AlertPorts): Line {
  const { channel, from, passwordFile, caFile } = settings;
  const server = mailServer(settings.server, { passwordFile, caFile });
  if (typeof server === 'string') throw new Error(`alerts: mail: ${server}`);
  if (!isAddress(from)) throw new Error(`alerts: mail: ${JSON.stringify(from)} is not a mail address`);
  const read = readAddresses(settings.to);
  if ('fault' in read) throw new Error(`alerts: mail: ${read.fault}`);
  const after = ports.after ?? afterReal;
  return new Line(channel, new Mail(server, { from, to: read.to }, { after, limits }));
}

function openLine(
  { channel, url, keyFile }: AlertSettings['webhooks'][number],
  limits: AlertLimits,
  ports: AlertPorts,
): Line {
  const address = webhookUrl(url);
  if (typeof address === 'string') throw new Error(`alerts: webhook ${channel}: ${address}`);
  const read = readOrMakeKey(keyFile);
  if ('fault' in read) throw new Error(`alerts: webhook ${channel}: ${read.fault}`);
  const webhook = new Webhook(address, read.key, {
    clock: ports.clock,
    fetch: ports.fetch ?? fetch,
    after: ports.after ?? afterReal,
    limits,
  });
  if (read.made) ports.log.info({ channel, keyFile }, 'made the key that signs this channel: give it to the receiver');
  if (address.protocol === 'http:' && !isLoopback(address.hostname)) {
    ports.log.warn({ channel, to: webhook.to }, 'notices leave this computer unencrypted; https keeps them private');
  }
  return new Line(channel, webhook);
}

function isLoopback(host: string): boolean {
  return host === 'localhost' || host === '[::1]' || /^127(?:\.\d+){3}$/.test(host);
}
