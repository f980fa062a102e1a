// Who gets a mail: whoever is expected to answer a hold of its reason, and those whom an escalation names.
import type { HoldReason } from '../../shared/holds.ts';
import { ROLES, type Role } from '../../shared/rights.ts';
import type { HoldView } from '../../shared/views.ts';
import type { NoticeReason } from './occasion.ts';

/** By role, and of whoever gets every mail. */
export type Addresses = Readonly<Partial<Record<Role | 'all', readonly string[]>>>;

/** More of one role than this is a list that should be kept at the mail server. */
export const ADDRESSES_PER_ROLE_MAX = 20;
const ADDRESS_LENGTH_MAX = 254;
/** One address and nothing else: no names, no lists, nothing that could end a header line. */
const ADDRESS = /^[^\s@<>,;:"\\()[\]]+@[A-Za-z0-9.-]+$/;

const ANSWERED_BY: Readonly<Record<HoldReason, readonly Role[]>> = {
  'residual-exceeds': ['tool-room'],
  'not-measured-since-build': ['tool-room'],
  'speed-above-balanced': ['operator', 'tool-room'],
  'speed-above-marked': ['operator', 'tool-room'],
  'held-assembly-loaded': ['operator', 'tool-room'],
  'overall-over-limit': ['maintenance'],
  'synchronous-over-limit': ['maintenance'],
  'vibration-unexplained': ['maintenance', 'tool-room'],
  'bench-in-doubt': ['tool-room'],
  'sensor-cannot-judge': ['maintenance'],
};

/** `maintenance=a@plant.example,b@plant.example; all=log@plant.example`, or what is wrong with it. */
export function readAddresses(text: string): { readonly to: Addresses } | { readonly fault: string } {
  const to: Partial<Record<Role | 'all', readonly string[]>> = {};
  for (const part of text
    .split(';')
    .map((one) => one.trim())
    .filter((one) => one !== '')) {
    const [name = '', list = ''] = part.split('=').map((one) => one.trim());
    const role = [...ROLES, 'all' as const].find((one) => one === name);
    if (role === undefined)
      return { fault: `${JSON.stringify(name)}: expected one of ${[...ROLES, 'all'].join(', ')}` };
    const addresses = list.split(',').map((one) => one.trim());
    const wrong = addresses.find((one) => !isAddress(one));
    if (wrong !== undefined) return { fault: `${name}: ${JSON.stringify(wrong)} is not a mail address` };
    if (addresses.length > ADDRESSES_PER_ROLE_MAX)
      return {
        fault: `${name}: expected at most ${ADDRESSES_PER_ROLE_MAX} addresses; keep a longer list at the mail server`,
      };
    to[role] = addresses;
  }
  const untold = (['maintenance', 'tool-room', 'engineer'] as const).filter((role) => to[role] === undefined);
  return to.all === undefined && untold.length > 0
    ? { fault: `nobody is told in place of ${untold.join(', ')}: name them, or say all=…` }
    : { to };
}

export const isAddress = (text: string): boolean => text.length <= ADDRESS_LENGTH_MAX && ADDRESS.test(text);

export interface MailTo {
  readonly addresses: readonly string[];
  /** As it may be shown to everybody: roles and how many, no addresses. */
  readonly words: string;
}

/** Those who answer for it; from an escalation on those whom it named as well, and whoever confirms where a name is asked for. */
export function mailTo(hold: Pick<HoldView, 'reason' | 'escalations'>, reason: NoticeReason, to: Addresses): MailTo {
  const escalated = (hold.escalations ?? []).flatMap((one) => one.to);
  const confirms: readonly Role[] = reason === 'second-name-asked' ? ['engineer', 'maintenance'] : [];
  const roles = new Set<Role | 'all'>([...ANSWERED_BY[hold.reason], ...escalated, ...confirms, 'all']);
  const told = [...roles].flatMap((role) => {
    const addresses = to[role] ?? [];
    return addresses.length === 0 ? [] : [{ role, addresses }];
  });
  return {
    addresses: [...new Set(told.flatMap(({ addresses }) => addresses))],
    words: told.map(({ role, addresses }) => `${role} (${addresses.length})`).join(', '),
  };
}
