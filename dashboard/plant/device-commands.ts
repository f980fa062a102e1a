// The commands by which a device's first messages are sent by hand, to be pasted into a shell as they are. Pure.
import type { Connecting } from '../../shared/connecting.ts';
import { say } from '../../shared/language/index.ts';
import type { DeviceWithSecret } from './plant-asks.ts';

export interface Where {
  readonly plant: string;
  readonly broker: NonNullable<Connecting['broker']>;
  readonly ownAuthority: boolean;
}

export interface Step {
  readonly words: string;
  readonly command: string;
}

/** What the certificate is saved as by a browser. */
const AUTHORITY_FILE = 'counterpoise-authority.crt';

/** For a POSIX shell: nothing within is anything but itself. */
export const quoted = (text: string): string => `'${text.replaceAll("'", `'\\''`)}'`;

/** Listening everywhere is no address to go to: it is the one that this page came from, then. */
export function whereOf({ broker, ownAuthority }: Connecting, plant: string, pageHost: string): Where | undefined {
  if (broker === undefined) return undefined;
  const everywhere = broker.host === '0.0.0.0' || broker.host === '::';
  return { plant, ownAuthority, broker: { ...broker, host: everywhere ? pageHost : broker.host } };
}

export function stepsOf(device: DeviceWithSecret, where: Where): readonly Step[] {
  return [
    {
      words: say`Say who it is. It changes nothing else, and may be sent as often as you like.`,
      command: published(device, where, 'birth', 'counterpoise.device.birth.v1', birthOf(device)),
    },
    measured(device, where),
  ];
}

function measured(device: DeviceWithSecret, where: Where): Step {
  const [spindleId = 'S-1'] = device.serves.filter((id) => id !== '*');
  switch (device.kind) {
    case 'sensor':
      return {
        words: say`Send a reading. Put in what was measured: it goes on record and stays there.`,
        command: published(device, where, 'summary', 'counterpoise.vibration.summary.v1', {
          spindleId,
          speedRpm: 6000,
          overallMmS: 0.62,
          cutting: false,
          steady: true,
        }),
      };
    case 'machine':
      return {
        words: say`Say how the machine stands. Put in what is so: it goes on record and stays there.`,
        command: published(device, where, 'machine', 'counterpoise.machine.state.v1', {
          spindleId,
          programmedSpeedRpm: 6000,
          actualSpeedRpm: 0,
          cutting: false,
        }),
      };
    case 'bench':
      return {
        words: say`Say what an assembly is made of, and wait for the receipt. Put in one of yours: it goes on record and stays there.`,
        command: asked(device, where, 'build', 'counterpoise.assembly.build.v1', {
          assemblyId: 'A-1',
          buildId: 'A-1-1',
          massKg: 2.64,
          serviceSpeedRpm: 12_000,
          gradeMmS: 6.3,
          parts: [{ role: 'holder', name: 'holder', markedMaxSpeedRpm: 25_000 }],
        }),
      };
    case 'reader':
      return {
        words: say`Listen to what is put on hold.`,
        command: [
          `mosquitto_sub ${signedIn(device, where)} -q 1 -v`,
          `  -t ${quoted(`counterpoise/v1/${where.plant}/out/spindle/+/hold`)}`,
        ].join(' \\\n'),
      };
  }
}

function birthOf({ kind, serves }: DeviceWithSecret): object {
  const named = serves.filter((id) => id !== '*');
  return { kind, ...(named.length === 0 ? {} : { serves: named }), ...(kind === 'sensor' ? { intervalS: 1 } : {}) };
}

function published(device: DeviceWithSecret, where: Where, channel: string, type: string, data: object): string {
  return [
    `mosquitto_pub ${signedIn(device, where)} -q 1`,
    `  -t ${quoted(topicOf(device, where, channel))}`,
    `  -m ${messageOf(device, where, channel, type, data)}`,
  ].join(' \\\n');
}

/** `mosquitto_rr` publishes and waits on one connection: two of one name would cut each other off. */
function asked(device: DeviceWithSecret, where: Where, channel: string, type: string, data: object): string {
  const receipt = `counterpoise/v1/${where.plant}/back/${device.device}/receipt`;
  return [
    `mosquitto_rr -V mqttv311 ${signedIn(device, where)} -q 1 -W 10`,
    `  -t ${quoted(topicOf(device, where, channel))}`,
    `  -e ${quoted(receipt)}`,
    `  -m ${messageOf(device, where, channel, type, data)}`,
  ].join(' \\\n');
}

function signedIn({ device, secret }: DeviceWithSecret, { broker, ownAuthority }: Where): string {
  const trust = broker.tls ? (ownAuthority ? ` --cafile ${AUTHORITY_FILE}` : ' --tls-use-os-certs') : '';
  return `-h ${broker.host} -p ${broker.port}${trust} -i ${device} -u ${device} -P ${quoted(secret)}`;
}

const topicOf = ({ device }: DeviceWithSecret, { plant }: Where, channel: string): string =>
  `counterpoise/v1/${plant}/in/${device}/${channel}`;

/** Its id and time are made by the shell when it is sent, so that the same command may be sent again. */
function messageOf(
  { device }: DeviceWithSecret,
  { plant }: Where,
  channel: string,
  type: string,
  data: object,
): string {
  const head = { specversion: '1.0', source: `/plant/${plant}/device/${device}`, type };
  const before = JSON.stringify(head).slice(0, -1);
  return `'${before},"id":"${channel}-'$(date +%s%N)'","time":"'$(date -u +%FT%TZ)'","data":${JSON.stringify(data)}}'`;
}
