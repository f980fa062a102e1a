// enrol, devices and revoke: credentials for real devices, made beside the service, whether it runs at the moment or not.
import type { Command } from 'commander';
import { DEVICE_KINDS, isId, type DeviceKind } from '../../shared/ids.ts';
import type { FieldFault } from '../../shared/problem.ts';
import { SERVICE_NAME } from '../../shared/recording.ts';
import { openAccess, type AccessStore } from '../access/index.ts';
import { expectDataDir } from '../data-dir.ts';
import type { Settings } from '../settings.ts';
import { accessSettings } from '../stores.ts';
import { settingsOf, withSettings } from './settings-options.ts';

export function addDeviceCommands(program: Command): void {
  withSettings(program.command('enrol'))
    .description('make the credential of a device; its secret is shown this once')
    .argument('<device>', 'its name in every topic: 1 to 40 letters, digits or hyphens')
    .requiredOption('--kind <kind>', DEVICE_KINDS.join(', '))
    .option('--serves <ids>', 'spindles it sits on or answers for, with commas; * for all (readers)')
    .option('--rotate', 'a new secret for a device that has one; the old works for another day')
    .option('--json', 'print JSON')
    .addHelpText(
      'after',
      '\nExamples:\n  counterpoise enrol bench-3 --kind bench\n  counterpoise enrol sensor-7 --kind sensor --serves S-07\n',
    )
    .action(async (device: string, { kind, serves, rotate, json, ...flags }: Record<string, unknown>) => {
      const credential = { device, kind: kindOf(kind), serves: idsOf(serves) };
      const settings = settingsOf(flags);
      await withAccess(settings, async (access) => {
        const enrolled =
          rotate === true ? await access.rotate(SERVICE_NAME, device) : await access.enrol(SERVICE_NAME, credential);
        if (enrolled.kind === 'refused') throw new Error(whyRefused(enrolled));
        const { secret } = enrolled;
        const text = [
          `device    ${device} (${enrolled.credential.kind})`,
          `serves    ${enrolled.credential.serves.join(', ') || '-'}`,
          `client id ${device}`,
          `user name ${device}`,
          `password  ${secret}`,
          `publishes counterpoise/v1/${settings.plant}/in/${device}/…`,
          'The password is not shown again.',
        ].join('\n');
        process.stdout.write(`${json === true ? JSON.stringify({ ...enrolled.credential, secret }) : text}\n`);
      });
    });
  withSettings(program.command('devices'))
    .description('list the devices with a credential')
    .option('--json', 'print JSON')
    .action(async ({ json, ...flags }: Record<string, unknown>) => {
      await withAccess(settingsOf(flags), async (access) => {
        const devices = await access.devices();
        const lines = devices.map(({ device, kind, serves, revokedAt }) =>
          [device.padEnd(24), kind.padEnd(8), revokedAt === undefined ? '' : 'revoked', serves.join(' ')].join(' '),
        );
        process.stdout.write(
          json === true ? `${JSON.stringify(devices)}\n` : `${lines.join('\n') || 'no devices yet'}\n`,
        );
      });
    });
  withSettings(program.command('revoke'))
    .description("end a device's credential at once")
    .argument('<device>')
    .action(async (device: string, flags: Record<string, unknown>) => {
      await withAccess(settingsOf(flags), async (access) => {
        if (!(await access.revoke(SERVICE_NAME, device))) throw new Error(`${device} has no credential to end`);
        process.stdout.write(`${device} can sign in no more\n`);
      });
    });
}

async function withAccess(settings: Settings, work: (access: AccessStore) => Promise<void>): Promise<void> {
  expectDataDir(settings);
  const access = await openAccess(accessSettings(settings));
  try {
    await work(access);
  } finally {
    await access.close();
  }
}

function kindOf(word: unknown): DeviceKind {
  const kind = DEVICE_KINDS.find((one) => one === word);
  if (kind === undefined) throw new Error(`--kind: expected one of ${DEVICE_KINDS.join(', ')}, got ${String(word)}`);
  return kind;
}

function idsOf(text: unknown): string[] {
  if (typeof text !== 'string') return [];
  const ids = text.split(',').map((id) => id.trim());
  const bad = ids.find((id) => id !== '*' && !isId(id));
  if (bad !== undefined)
    throw new Error(
      `--serves: expected ids of letters, digits or hyphens with commas between, got ${JSON.stringify(bad)}`,
    );
  return ids;
}

/** With what was expected, where a field of it was wrong. */
function whyRefused({ why, faults = [] }: { readonly why: string; readonly faults?: readonly FieldFault[] }): string {
  return [why, ...faults.map(({ want, got }) => `Expected ${want}, got “${String(got)}”.`)].join(' ');
}
