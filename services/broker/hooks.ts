// What the protocol asks at each step of a connection, answered from sign-in, admission and the list of subscriptions.
import type { Client, ConnectPacket } from 'aedes';
import { isId } from '../../shared/ids.ts';
import { isOwnTopic, type Admission } from './admission.ts';
import type { Lane } from './lane.ts';
import type { Lanes } from './lanes.ts';
import type { ProtocolHooks } from './protocol.ts';
import { quoted, type Refusal, type RefusalReason } from './refusals.ts';
import type { ReturnCode, SignIn } from './sign-in.ts';
import { maySubscribe } from './subscriptions.ts';

export interface HookParts {
  readonly plant: string;
  readonly lanes: Lanes;
  readonly admission: Admission;
  readonly signIn: SignIn;
  laneOf(client: Client): Lane;
  report(refusal: Refusal): void;
}

const DRAIN_TIMEOUT = 'drain timeout';

export function protocolHooks(parts: HookParts): ProtocolHooks {
  const { plant, lanes, admission } = parts;
  const laneOf = (client: Client): Lane => parts.laneOf(client);
  return {
    connect: (client, packet) => prepare(laneOf(client), packet, lanes),
    signIn: (client, name, secret) => signIn(parts, client.id, laneOf(client), name, secret),
    ready: (client) => lanes.ready(laneOf(client)),
    publish: (client, packet, durable) => admission.publish(laneOf(client), packet, durable),
    maySubscribe: (client, filter) => {
      const { credential, device } = laneOf(client);
      if (credential !== undefined && maySubscribe(plant, credential, filter)) return true;
      parts.report({ ...named(device), reason: 'subscription-not-allowed', detail: quoted(filter) });
      return false;
    },
    mayForward: (client) => {
      const lane = laneOf(client);
      const unsent = lane.socket.writableLength;
      if (unsent <= lanes.limits.unsentBytesMax) return true;
      lanes.refuse(lane, 'subscriber-too-slow', `${unsent} bytes wait for it`);
      return false;
    },
    failed: (client, error) => {
      const lane = laneOf(client);
      // The other side or the network ended it (ECONNRESET, EPIPE, …): nobody was turned away.
      if ('code' in error || lane.turnedAway) return lanes.end(lane);
      const reason = error.message === DRAIN_TIMEOUT ? 'subscriber-too-slow' : 'connection-failed';
      lanes.refuse(lane, reason, error.message);
    },
  };
}

/** Wills and silence are ours to handle, and no session outlives its connection: nothing is queued for the absent. */
function prepare(lane: Lane, packet: ConnectPacket, { limits }: Lanes): void {
  if (packet.will !== undefined) {
    lane.will = { topic: packet.will.topic, payload: Buffer.from(packet.will.payload) };
    delete packet.will;
  }
  const wanted = packet.keepalive === undefined || packet.keepalive === 0 ? Infinity : packet.keepalive;
  lane.keepaliveMs = Math.min(Math.max(wanted, limits.keepaliveMinSeconds), limits.keepaliveMaxSeconds) * 1000;
  packet.keepalive = 0;
  packet.clean = true;
}

async function signIn(
  parts: HookParts,
  clientId: string,
  lane: Lane,
  name: string | undefined,
  secret: Uint8Array | undefined,
): Promise<'accepted' | ReturnCode> {
  const refused = (returnCode: ReturnCode, reason: RefusalReason, detail: string): ReturnCode => {
    lane.turnedAway = true;
    parts.report({ ...named(name), reason, detail });
    return returnCode;
  };
  if (name === undefined || secret === undefined) return refused(5, 'no-credential', `from ${lane.address}`);
  // Otherwise a device could end another's connection by taking its client id.
  if (clientId !== name || !isId(name)) {
    return refused(2, 'client-id-not-device', `client id ${quoted(clientId)}, user name ${quoted(name)}`);
  }
  if (lane.will !== undefined && !isOwnTopic(parts.plant, name, lane.will.topic)) {
    return refused(5, 'will-not-allowed', quoted(lane.will.topic));
  }
  const result = await parts.signIn.check(name, secret, lane.address, () => parts.lanes.nowMs());
  if ('returnCode' in result) return refused(result.returnCode, result.reason, result.detail);
  if (lane.stage === 'closed') return 3;
  parts.lanes.takeOver(name, lane);
  lane.signedIn(result);
  return 'accepted';
}

function named(device: string | undefined): { readonly device?: string } {
  return device !== undefined && isId(device) ? { device } : {};
}
