// Tells those who must know about holds: plans each notice from what is on record, sends it signed, records each try.
export { startAlerts } from './alerts.ts';
export type { AlertLog, AlertPorts, Alerts, ChannelTest } from './ports.ts';
export type { After } from './timer.ts';
export {
  ALERT_LIMITS,
  type AlertLimits,
  type AlertSettings,
  type MailSettings,
  type WebhookSettings,
} from './settings.ts';
export { nextNotice, noticeIdOf, type NextNotice, type NoticeSent } from './plan.ts';
export { SIGNATURE_HEADERS, signatureOf, isSigned } from './signature.ts';
export { readOrMakeKey } from './key-file.ts';
