// start (the invented plant, everything embedded) and serve (a real one): what they print, and how they end.
import { existsSync } from 'node:fs';
import { resolve } from 'node:path';
import type { Command } from 'commander';
import type { Service } from '../main.ts';
import type { Settings } from '../settings.ts';
import { settingsOf, withServiceSettings } from './settings-options.ts';

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
      await runUntilEnded(settings, await startService(settings));
    });
  withServiceSettings(program.command('start'))
    .description('run everything embedded with an invented plant of 12 spindles, for a first look')
    .option('--clock <rate>', 'how fast the clock runs: 1 is real time, 60 a minute a second', '1')
    .option('--seed <number>', 'the invention of the plant: the same number gives the same plant', '1')
    .option('--history-days <days>', 'invented days before today, loaded at the first start', '90')
    .addHelpText('after', '\nExample:\n  counterpoise start --data /tmp/look --clock 60\n')
    .action(async ({ clock, seed, historyDays, ...flags }: Record<string, unknown>) => {
      const settings = settingsOf(flags, { plant: 'demo', mqttPort: 18_830, data: 'data/demo' });
      const { startDemo } = await import('./demo.ts');
      const demo = { rate: Number(clock), seed: Number(seed), historyDays: Number(historyDays) };
      await runUntilEnded(settings, await startDemo(settings, demo));
    });
}

const FORCED_AFTER_MS = 1000;

async function runUntilEnded(settings: Settings, service: Service): Promise<void> {
  announce(settings, service);
  let askedAt: number | undefined;
  const stop = (): void => {
    // A later second Ctrl-C means now; one that npm passes on twice does not. What was acknowledged is stored either way.
    if (askedAt !== undefined && performance.now() - askedAt > FORCED_AFTER_MS) process.exit(130);
    if (askedAt !== undefined) return;
    askedAt = performance.now();
    process.stderr.write('\nstopping: what has arrived is stored first …\n');
    void service.close();
  };
  process.on('SIGINT', stop).on('SIGTERM', stop);
  const code = await service.ended;
  process.stderr.write(code === 0 ? `stopped. The data are in ${resolve(settings.data)}\n` : 'ended with a fault\n');
  process.exit(code);
}

function announce(settings: Settings, { url, mqttPort, firstSignIn, startedInS }: Service): void {
  const lines = [`Counterpoise is running (ready after ${startedInS.toFixed(1)} s).`, '', `  dashboard   ${url}`];
  if (mqttPort !== undefined) lines.push(`  devices     mqtt://${settings.mqttHost}:${mqttPort}`);
  else lines.push(`  devices     through the external broker`);
  lines.push(`  data        ${resolve(settings.data)}`);
  if (firstSignIn !== undefined) lines.push('', ...firstSignInLines(url, firstSignIn));
  lines.push(
    '',
    'Advisory only: the limits of the machine and tool makers govern, and local rules.',
    'Ctrl-C stops it.',
    '',
  );
  process.stdout.write(`${lines.join('\n')}\n`);
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
    `Nobody can sign in yet. The one-time sign-in stands in ${resolve(file ?? settingsFileHint)} (for half an hour).`,
  ];
}

const settingsFileHint = 'first-sign-in';
