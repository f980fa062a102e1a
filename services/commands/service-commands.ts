// start (the invented plant, everything embedded) and serve (a real one): what they print, and how they end.
import { existsSync } from 'node:fs';
import { resolve } from 'node:path';
import { setFlagsFromString } from 'node:v8';
import type { Command } from 'commander';
import { MILLISECONDS_A_SECOND } from '../../shared/time.ts';
import type { Service } from '../main.ts';
import { isInTheClear, type Settings } from '../settings.ts';
import { portOrAny } from './free-port.ts';
import { numberIn, settingsOf, withServiceSettings } from './settings-options.ts';

export function addServiceCommands(program: Command): void {
  withServiceSettings(program.command('serve'))
    .description('run the service for a plant')
    .addHelpText(
      'after',
      '\nExample:\n  counterpoise serve --plant north-1 --data /var/lib/counterpoise --webhook-url https://alerts.example/holds\n',
    )
    .action(async (flags: Record<string, unknown>) => {
      const settings = settingsOf(flags);
      const { startService } = await import('../main.ts');
      await runUntilEnded(settings, (stop) => startService(settings, { stop }));
    });
  withServiceSettings(program.command('start'))
    .description('run everything embedded with an invented plant of 12 spindles, for a first look')
    .option('--clock <rate>', 'how fast the clock runs: 1 is real time, 60 a minute a second', numberIn(RATES), 1)
    .option('--seed <number>', 'the invention of the plant: the same number gives the same plant', numberIn(SEEDS), 1)
    .option('--history-days <days>', 'invented days before today, loaded at the first start', numberIn(DAYS), 90)
    .addHelpText('after', '\nExample:\n  counterpoise start --data /tmp/look --clock 60\n')
    .action(async ({ clock, seed, historyDays, ...flags }: StartFlags) => {
      const settings = settingsOf(flags, {
        plant: DEMO_PLANT,
        data: 'data/demo',
        httpPort: await portOrAny(LOOPBACK, DEMO_HTTP_PORT),
        mqttPort: await portOrAny(LOOPBACK, DEMO_MQTT_PORT),
      });
      const demo = { rate: clock, seed, historyDays };
      const { startDemo } = await import('./demo.ts');
      await runUntilEnded(settings, (stop) => startDemo(settings, demo, stop));
    });
}

interface StartFlags {
  readonly clock: number;
  readonly seed: number;
  readonly historyDays: number;
  readonly [setting: string]: unknown;
}

const RATES = { min: 1, max: 3600 };
const SEEDS = { min: 0, max: 2 ** 31 };
const DAYS = { min: 0, max: 1000 };
const LOOPBACK = '127.0.0.1';
const DEMO_PLANT = 'demo';
const DEMO_HTTP_PORT = 8470;
const DEMO_MQTT_PORT = 18_830;
const FORCED_AFTER_MS = 1000;
const EXIT_INTERRUPTED = 130;
const STARTING_TOLD_MS = 5000;

/** How much of what is in use a thread's heap grows before it is tidied up; V8 alone would let it double. */
const HEAP_GROWING_PERCENT = 40;

async function runUntilEnded(settings: Settings, start: (stop: AbortSignal) => Promise<Service>): Promise<void> {
  setFlagsFromString(`--heap-growing-percent=${HEAP_GROWING_PERCENT}`);
  const stopping = new AbortController();
  let service: Service | undefined;
  let askedAt: number | undefined;
  const stop = (): void => {
    // A later second Ctrl-C means now; one that npm passes on twice does not. What was acknowledged is stored either way.
    if (askedAt !== undefined && performance.now() - askedAt > FORCED_AFTER_MS) process.exit(EXIT_INTERRUPTED);
    if (askedAt !== undefined) return;
    askedAt = performance.now();
    process.stderr.write('\nstopping: what has arrived is stored first …\n');
    stopping.abort();
    void service?.close();
  };
  process.on('SIGINT', stop).on('SIGTERM', stop);
  const where = `The data are in ${resolve(settings.data)}`;
  // The demonstration tells how far it is itself.
  const telling = settings.plant === DEMO_PLANT ? undefined : tellWhileStarting();
  try {
    service = await start(stopping.signal).finally(() => clearInterval(telling));
  } catch (failure) {
    if (!stopping.signal.aborted) throw failure;
    process.stderr.write(`stopped before it was running. ${where}\n`);
    process.exit(0);
  }
  if (stopping.signal.aborted) void service.close();
  else announce(settings, service);
  const code = await service.ended;
  process.stderr.write(code === 0 ? `stopped. ${where}\n` : `ended with a fault. ${where}\n`);
  process.exit(code);
}

/** After a crash what is stored is read first, which can take its time. */
function tellWhileStarting(): NodeJS.Timeout {
  const begun = performance.now();
  return setInterval(() => {
    const seconds = Math.round((performance.now() - begun) / MILLISECONDS_A_SECOND);
    process.stderr.write(`starting: what is stored is read first, ${seconds} s so far …\n`);
  }, STARTING_TOLD_MS);
}

function announce(settings: Settings, service: Service): void {
  const { url, devicesUrl, ownCertificate, firstSignIn, startedInS, isNewData } = service;
  const lines = [`Counterpoise is running (ready after ${startedInS.toFixed(1)} s).`, '', `  dashboard   ${url}`];
  lines.push(`  devices     ${devicesUrl ?? 'through the external broker'}`, `  data        ${resolve(settings.data)}`);
  if (ownCertificate !== undefined) lines.push(...certificateLines(ownCertificate));
  if (isNewData) {
    lines.push(
      '',
      `New data directory made for plant ${settings.plant}. If the plant has data already, stop, and say --data.`,
    );
  }
  if (isInTheClear(settings)) {
    lines.push('', 'Secrets and readings can be heard on the network: nothing is encrypted beyond this computer.');
  }
  const reachedAt = settings.publicUrl?.replace(/\/+$/, '') ?? url;
  if (firstSignIn !== undefined) lines.push('', ...firstSignInLines(reachedAt, firstSignIn));
  lines.push(
    '',
    'Advisory only: the limits of the machine and tool makers govern, and local rules.',
    'Ctrl-C stops it.',
    '',
  );
  process.stdout.write(`${lines.join('\n')}\n`);
}

/** Whoever trusts it does so by this number, read here and compared there. */
function certificateLines({ fingerprint, authorityFile }: NonNullable<Service['ownCertificate']>): string[] {
  return [
    `  authority   ${resolve(authorityFile)}, also at /certificate: install it once on each tablet, and give it to devices`,
    `              SHA-256 ${fingerprint}`,
  ];
}

/** The token goes to a person's terminal, never into a log that others may read: there only its file is named. */
function firstSignInLines(url: string, { token, file }: NonNullable<Service['firstSignIn']>): string[] {
  const where = file !== undefined && existsSync(file) ? [`  (also in ${resolve(file)}, for half an hour)`] : [];
  if (process.stdout.isTTY)
    return [
      'Nobody can sign in yet. Open this once to choose a name and a password:',
      `  ${url}/first-sign-in#${token}`,
      ...where,
    ];
  return [
    'Nobody can sign in yet. Once only, with the token, to choose a name and a password:',
    `  address     ${url}/first-sign-in`,
    `  token       in ${resolve(file ?? settingsFileHint)} (for half an hour)`,
  ];
}

const settingsFileHint = 'first-sign-in';
