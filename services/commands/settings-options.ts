// The options that say which plant and where its data are: the same for every verb that needs them.
import { InvalidArgumentError, type Command } from 'commander';
import { readSettings, type Settings } from '../settings.ts';

export function withSettings(command: Command): Command {
  return command
    .option('--config <file>', 'settings in YAML; flags and COUNTERPOISE_… come before it')
    .option('--data <dir>', 'the data directory (default: data)')
    .option('--plant <id>', 'the plant in every topic (default: plant-1)')
    .option('--journal <url>', 'postgres://… for PostgreSQL instead of SQLite in the data directory');
}

export function withServiceSettings(command: Command): Command {
  return withSettings(command)
    .option('--http-host <address>', 'address of the dashboard (default: 127.0.0.1)')
    .option('--http-port <port>', 'port of the dashboard (default: 8470; 0 takes a free one)')
    .option('--mqtt-host <address>', 'address of the embedded broker (default: 127.0.0.1)')
    .option('--mqtt-port <port>', 'port of the embedded broker (default: 1883; 0 takes a free one)')
    .option('--connections-max <n>', 'open sockets of devices (default: 10000)')
    .option('--packets-per-second-per-device <n>', 'what one device may send over time (default: 5000)')
    .option('--packets-burst-per-device <n>', 'what it may send at once after a quiet time (default: 10000)')
    .option('--broker <url>', 'mqtt://… of an external broker instead of the embedded one')
    .option('--broker-share <group>', 'group of a shared subscription on the external broker')
    .option('--webhook-url <url>', 'where hold alerts are posted, signed')
    .option('--webhook-key-file <file>', 'the key that signs them (default: made in the data directory)')
    .option('--mail-server <url>', 'smtp://host or smtps://user@host: hold alerts by mail as well')
    .option('--mail-password-file <file>', 'the password of the user at the mail server')
    .option('--mail-ca-file <file>', 'PEM of who signed its certificate, where that is the plant itself')
    .option('--mail-from <address>', 'the address that alerts come from')
    .option('--mail-to <list>', 'who gets them: "maintenance=a@plant.example; all=b@plant.example"')
    .option('--public-url <url>', 'address under which people reach the dashboard')
    .option('--tick-s <seconds>', 'how often the clock is journalled (default: 10)')
    .option('--drain-s <seconds>', 'how long /readyz says no before anything is closed (default: 0)')
    .option('--http-cert-file <file>', 'PEM certificate: the dashboard then answers by HTTPS only')
    .option('--http-key-file <file>', 'its private key')
    .option('--mqtt-cert-file <file>', 'PEM certificate: the embedded broker then speaks TLS only')
    .option('--mqtt-key-file <file>', 'its private key')
    .option('--metrics-token-file <file>', 'the token that /metrics asks for (default: loopback only, no token)')
    .option('--standing-token-file <file>', 'the token by which another plant is told how this one stands')
    .option('--group-file <file>', 'YAML that names other plants: their standing beside this one')
    .option('--trust-proxy', 'believe what a proxy in front says about who asks')
    .option('--own-certificate', 'HTTPS, and TLS for devices beyond loopback, with a certificate made at first start')
    .option('--insecure-lan', 'allow plain MQTT and HTTP beyond loopback');
}

/** As commander gives them. */
export type Flags = Readonly<Record<string, unknown>>;

/** Flags that are no settings are left out by name before. */
export function settingsOf(flags: Flags, defaults: Flags = {}): Settings {
  const { config, ...rest } = flags;
  return readSettings(rest, process.env, typeof config === 'string' ? config : undefined, defaults);
}

/** Reads an option that is no setting; commander says what is wrong with it. */
export function numberIn({ min, max }: { readonly min: number; readonly max: number }): (text: string) => number {
  return (text) => {
    const number = text.trim() === '' ? Number.NaN : Number(text);
    if (number >= min && number <= max) return number;
    throw new InvalidArgumentError(`Expected a number from ${min} to ${max}.`);
  };
}
