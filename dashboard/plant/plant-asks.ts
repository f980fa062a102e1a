// What the page Plant asks the service for, beyond what all pages ask: devices, people, and where devices connect.
import type { Connecting } from '../../shared/connecting.ts';
import type { DeviceKind } from '../../shared/ids.ts';
import type { Role } from '../../shared/rights.ts';
import type { Answer, Api } from '../api.ts';

export interface DeviceShown {
  readonly device: string;
  readonly kind: DeviceKind;
  readonly serves: readonly string[];
  readonly createdAt: number;
  readonly createdBy: string;
  readonly revokedAt?: number;
  readonly secretsInForce: number;
}

export interface DeviceAsked {
  readonly device: string;
  readonly kind: DeviceKind;
  readonly serves: readonly string[];
}

/** The secret is shown this once. */
export type DeviceWithSecret = DeviceAsked & { readonly secret: string };

export interface PersonShown {
  readonly name: string;
  readonly roles: readonly Role[];
  readonly disabled: boolean;
  readonly hasPassword: boolean;
  readonly createdAt: number;
  readonly createdBy: string;
  readonly lastSignInAt?: number;
}

/** The token is shown this once; with it the person chooses a password, until it ends. */
export interface PersonChanged {
  readonly user: PersonShown;
  readonly token?: string;
  readonly endsAt?: number;
}

export interface PersonChange {
  readonly roles?: readonly Role[];
  readonly disabled?: boolean;
  readonly reset?: boolean;
}

type Asking = Pick<Api, 'ask'>;

export const askConnecting = (api: Asking): Promise<Answer<Connecting>> => api.ask('GET', '/api/connecting');
export const askDevices = (api: Asking): Promise<Answer<readonly DeviceShown[]>> => api.ask('GET', '/api/devices');
export const askPeople = (api: Asking): Promise<Answer<readonly PersonShown[]>> => api.ask('GET', '/api/users');

export const enrolDevice = (api: Asking, asked: DeviceAsked): Promise<Answer<DeviceWithSecret>> =>
  api.ask('POST', '/api/devices', asked);
export const newSecret = (api: Asking, device: string): Promise<Answer<DeviceWithSecret>> =>
  api.ask('POST', `/api/devices/${encodeURIComponent(device)}/rotate`, {});
export const revokeDevice = (api: Asking, device: string): Promise<Answer<unknown>> =>
  api.ask('DELETE', `/api/devices/${encodeURIComponent(device)}`);

export const invitePerson = (api: Asking, name: string, roles: readonly Role[]): Promise<Answer<PersonChanged>> =>
  api.ask('POST', '/api/users', { name, roles });
export const changePerson = (api: Asking, name: string, change: PersonChange): Promise<Answer<PersonChanged>> =>
  api.ask('PATCH', `/api/users/${encodeURIComponent(name)}`, change);

export const declareSpindle = (api: Asking, spindleId: string, declared: object): Promise<Answer<unknown>> =>
  api.ask('PUT', `/api/spindles/${encodeURIComponent(spindleId)}`, declared);
