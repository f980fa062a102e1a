// What the record asks the service for.
import type { RecordKind } from '../../shared/record-kinds.ts';
import type { RecordPage, VerificationView } from '../../shared/record.ts';
import { queryOf, type Answer, type Api } from '../api.ts';

export interface RecordQuestion {
  /** All of them where it is empty. */
  readonly kinds: readonly RecordKind[];
  readonly by?: string;
  readonly about?: string;
  readonly from?: number;
  readonly to?: number;
}

/** One of the access log, which administrators may read. */
export interface AccessLine {
  readonly at: number;
  readonly who: string;
  readonly what: string;
  readonly subject: string;
  readonly from: string;
}

/** Newest first; only lines before `before`. */
export function fetchRecord(
  api: Api,
  { kinds, ...asked }: RecordQuestion,
  { limit, before }: { readonly limit: number; readonly before?: string | undefined },
): Promise<Answer<RecordPage>> {
  const kind = kinds.map((one) => `&kind=${one}`).join('');
  return api.ask('GET', `/api/record${queryOf({ ...asked, before, limit })}${kind}`);
}

/** The check of the record that runs, or the last one. */
export const fetchVerification = (api: Api): Promise<Answer<VerificationView>> => api.ask('GET', '/api/verification');

export const beginVerification = (api: Api, noted: string | undefined): Promise<Answer<VerificationView>> =>
  api.ask('POST', '/api/verification', noted === undefined ? {} : { noted });

export const giveUpVerification = (api: Api): Promise<Answer<VerificationView>> =>
  api.ask('DELETE', '/api/verification');

export const fetchAccessLog = (api: Api, limit: number): Promise<Answer<readonly AccessLine[]>> =>
  api.ask('GET', `/api/access-log${queryOf({ limit })}`);
