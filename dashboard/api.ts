// The one place that asks the gateway over HTTP. What can go wrong is a value; only a session that has ended is told to the shell.
import { say } from '../shared/language/index.ts';
import type { Found } from '../shared/cause-words.ts';
import type { Advice } from '../shared/advice.ts';
import type { PlantAheadView } from '../shared/ahead-plant.ts';
import type { Answering, AnsweringView } from '../shared/answering.ts';
import type { GateAnswer } from '../shared/gate.ts';
import type { LimitsImported } from '../shared/limits-import.ts';
import type { DeclaredLimits } from '../shared/declared-limits.ts';
import type { HeadroomView, RatesDeclared } from '../shared/headroom.ts';
import type { Correction } from '../shared/messages/index.ts';
import type { MonthView } from '../shared/month.ts';
import type { WorkPlanned } from '../shared/planned-work.ts';
import type { Problem } from '../shared/problem.ts';
import type { HoldActName } from '../shared/rights.ts';
import type { RibbonsView } from '../shared/ribbons.ts';
import type { FirstUser, SessionView, SignIn } from '../shared/session.ts';
import type { AssemblyRow, AssemblyView } from '../shared/assembly-views.ts';
import type { GroupView } from '../shared/group.ts';
import type { ToolRoomView } from '../shared/tool-room.ts';
import type { DraftInForce, RulesRead, RulesView, TryOutAsked, TryOutView } from '../shared/try-out.ts';
import type { OneWave, SpectrogramView, WavesView, WavesChosen } from '../shared/wave-views.ts';
import type { SeriesQuantity } from '../shared/series-quantities.ts';
import type { Travels } from '../shared/travels.ts';
import type { HoldView, IntakeView, RejectView, SeriesView, SpindleView } from '../shared/views.ts';

const ANSWER_WITHIN_MS = 15_000;
const UNAUTHORIZED = 401;

export type Answer<T> =
  | { readonly kind: 'answer'; readonly value: T }
  | { readonly kind: 'problem'; readonly status: number; readonly problem: Problem }
  | { readonly kind: 'unreachable' };

export interface GateAsked {
  readonly spindleId: string;
  readonly assemblyId: string;
  readonly speedRpm?: number;
}

export interface Stretch {
  readonly from: number;
  readonly to: number;
  readonly points: number;
}

export interface WaveSamples {
  readonly waveId: number;
  readonly accelerationMS2: Float64Array;
  readonly sampleRateHz: number;
}

type Query = Readonly<Record<string, string | number | undefined>>;

export { whyNot } from './why-not.ts';

export class Api {
  readonly #sessionOver: () => void;

  constructor(sessionOver: () => void) {
    this.#sessionOver = sessionOver;
  }

  /** Who is signed in; a 401 here is an answer like any other. */
  session(): Promise<Answer<SessionView>> {
    return request('GET', '/api/session');
  }
  signIn(person: SignIn): Promise<Answer<SessionView>> {
    return request('POST', '/api/session', person);
  }
  firstSignIn(person: FirstUser): Promise<Answer<SessionView>> {
    return request('POST', '/api/first-user', person);
  }
  signOut(): Promise<Answer<unknown>> {
    return request('DELETE', '/api/session');
  }

  ribbons(stretch: Stretch): Promise<Answer<RibbonsView>> {
    return this.#get(`/api/ribbons${queryOf({ ...stretch })}`);
  }
  spindle(spindleId: string): Promise<Answer<SpindleView>> {
    return this.#get(`/api/spindles/${encodeURIComponent(spindleId)}`);
  }
  /** At all speeds, or at those of one bin only. */
  series(
    spindleId: string,
    quantity: SeriesQuantity,
    stretch: Stretch & { readonly fromSpeedRpm?: number; readonly toSpeedRpm?: number },
  ): Promise<Answer<SeriesView>> {
    return this.#get(`/api/spindles/${encodeURIComponent(spindleId)}/series${queryOf({ quantity, ...stretch })}`);
  }
  /** Raw windows, newest first: the newest of them, or `limit` evenly over the time. */
  waves(
    spindleId: string,
    asked: { readonly from: number; readonly to: number; readonly limit: number; readonly chosen: WavesChosen },
  ): Promise<Answer<WavesView>> {
    return this.#get(`/api/spindles/${encodeURIComponent(spindleId)}/waves${queryOf({ ...asked })}`);
  }
  wave(waveId: number): Promise<Answer<OneWave>> {
    return this.#get(`/api/waves/${waveId}`);
  }
  spectrogram(
    spindleId: string,
    stretch: { readonly from: number; readonly to: number; readonly columns: number; readonly channel?: string },
  ): Promise<Answer<SpectrogramView>> {
    return this.#get(`/api/spindles/${encodeURIComponent(spindleId)}/spectrogram${queryOf({ ...stretch })}`);
  }
  waveSamples(waveId: number): Promise<Answer<WaveSamples>> {
    return this.#watched(samplesOf(waveId));
  }
  /** The spindle's sensor is asked for a window; it comes by the sensor's usual way. */
  askWave(spindleId: string): Promise<Answer<{ readonly asked: string }>> {
    return this.#watched(request('POST', `/api/spindles/${encodeURIComponent(spindleId)}/ask-wave`));
  }
  /** With `check` it is only said what would change. */
  importLimits(text: string, check: boolean): Promise<Answer<LimitsImported>> {
    return this.#watched(request('POST', `/api/limits/import${queryOf({ check: String(check) })}`, { text }));
  }
  /** Of all spindles. */
  limits(): Promise<Answer<DeclaredLimits>> {
    return this.#get('/api/limits');
  }
  rules(): Promise<Answer<RulesView>> {
    return this.#get('/api/rules');
  }
  /** A rule set from its text, with what it would change. */
  readRules(text: string): Promise<Answer<RulesRead>> {
    return this.#watched(request('POST', '/api/rules/read', { text }));
  }
  putInForce(draft: DraftInForce): Promise<Answer<RulesView>> {
    return this.#watched(request('POST', '/api/rules', draft));
  }
  tryOut(asked: TryOutAsked): Promise<Answer<TryOutView>> {
    return this.#watched(request('POST', '/api/try-outs', asked));
  }
  tryOutView(id: string): Promise<Answer<TryOutView>> {
    return this.#get(`/api/try-outs/${encodeURIComponent(id)}`);
  }
  cancelTryOut(id: string): Promise<Answer<TryOutView>> {
    return this.#watched(request('DELETE', `/api/try-outs/${encodeURIComponent(id)}`));
  }
  assemblies(): Promise<Answer<readonly AssemblyRow[]>> {
    return this.#get('/api/assemblies');
  }
  assembly(assemblyId: string): Promise<Answer<AssemblyView>> {
    return this.#get(`/api/assemblies/${encodeURIComponent(assemblyId)}`);
  }
  /** What would correct it, by the measurement in force or by the one at a position. */
  advice(assemblyId: string, position?: number): Promise<Answer<Advice>> {
    return this.#get(`/api/assemblies/${encodeURIComponent(assemblyId)}/advice${queryOf({ position })}`);
  }
  recordCorrection(correction: Correction): Promise<Answer<unknown>> {
    const { assemblyId, ...done } = correction;
    return this.#watched(request('POST', `/api/assemblies/${encodeURIComponent(assemblyId)}/corrections`, done));
  }
  /** What reaches its limit when; of one cell, or of all. */
  ahead(cell: string | undefined): Promise<Answer<PlantAheadView>> {
    return this.#get(`/api/ahead${queryOf({ cell })}`);
  }
  headroom(days: number): Promise<Answer<HeadroomView>> {
    return this.#get(`/api/headroom${queryOf({ days })}`);
  }
  /** 2026-11. */
  month(month: string): Promise<Answer<MonthView>> {
    return this.#get(`/api/months/${encodeURIComponent(month)}`);
  }
  declareRates(rates: RatesDeclared): Promise<Answer<HeadroomView>> {
    return this.#watched(request('PUT', '/api/rates', rates));
  }
  plants(): Promise<Answer<GroupView>> {
    return this.#get('/api/plants');
  }
  toolRoom(): Promise<Answer<ToolRoomView>> {
    return this.#get('/api/tool-room');
  }
  liftDoubt(bench: string, note: string): Promise<Answer<unknown>> {
    return this.#watched(request('POST', `/api/benches/${encodeURIComponent(bench)}/doubt-lifted`, { note }));
  }
  holds(state: 'open' | 'ended', limit: number): Promise<Answer<readonly HoldView[]>> {
    return this.#get(`/api/holds${queryOf({ state, limit })}`);
  }
  hold(holdId: string): Promise<Answer<HoldView>> {
    return this.#get(`/api/holds/${encodeURIComponent(holdId)}`);
  }
  /** Who is told when nobody answers a hold. */
  answering(): Promise<Answer<AnsweringView>> {
    return this.#get('/api/answering');
  }
  declareAnswering(answering: Answering): Promise<Answer<AnsweringView>> {
    return this.#watched(request('PUT', '/api/answering', answering));
  }
  /** Absent where the hold is about no pair. */
  travels(holdId: string): Promise<Answer<Travels>> {
    return this.#get(`/api/holds/${encodeURIComponent(holdId)}/travels`);
  }
  planWork(spindleId: string, work: Omit<WorkPlanned, 'spindleId'>): Promise<Answer<unknown>> {
    return this.#watched(request('POST', `/api/spindles/${encodeURIComponent(spindleId)}/work`, work));
  }
  /** The same `actId` again is the same act: it is done once. */
  act(
    holdId: string,
    act: HoldActName,
    { note, ...said }: { readonly note: string; readonly found?: Found; readonly actId: string },
  ): Promise<Answer<HoldView>> {
    const body = { act, ...(note === '' ? {} : { note }), ...said };
    return this.#watched(request('POST', `/api/holds/${encodeURIComponent(holdId)}/acts`, body));
  }
  gate(asked: GateAsked): Promise<Answer<GateAnswer>> {
    return this.#get(`/api/gate${queryOf({ ...asked })}`);
  }
  intake(): Promise<Answer<IntakeView>> {
    return this.#get('/api/intake');
  }
  rejects(state: 'open' | 'retried', limit: number, before?: number): Promise<Answer<readonly RejectView[]>> {
    return this.#get(`/api/rejects${queryOf({ state, limit, before })}`);
  }
  retryReject(position: number): Promise<Answer<unknown>> {
    return this.#watched(request('POST', `/api/rejects/${position}/retry`));
  }
  journalEntry(position: number): Promise<Answer<unknown>> {
    return this.#get(`/api/journal/${position}`);
  }

  /** For what one page alone asks; it says how it is answered. */
  ask<T>(method: 'GET' | 'POST' | 'PUT' | 'PATCH' | 'DELETE', path: string, body?: unknown): Promise<Answer<T>> {
    return this.#watched(request<T>(method, path, body));
  }

  #get<T>(path: string): Promise<Answer<T>> {
    return this.#watched(request<T>('GET', path));
  }

  async #watched<T>(asked: Promise<Answer<T>>): Promise<Answer<T>> {
    const answer = await asked;
    if (answer.kind === 'problem' && answer.status === UNAUTHORIZED) this.#sessionOver();
    return answer;
  }
}

export function queryOf(fields: Query): string {
  const query = new URLSearchParams();
  for (const [name, value] of Object.entries(fields)) if (value !== undefined) query.set(name, String(value));
  return query.size === 0 ? '' : `?${query.toString()}`;
}

async function request<T>(method: string, path: string, body?: unknown): Promise<Answer<T>> {
  try {
    const response = await fetch(path, {
      method,
      credentials: 'same-origin',
      cache: 'no-store',
      signal: AbortSignal.timeout(ANSWER_WITHIN_MS),
      ...(body === undefined ? {} : { body: JSON.stringify(body), headers: { 'content-type': 'application/json' } }),
    });
    const text = await response.text();
    if (!response.ok) return { kind: 'problem', status: response.status, problem: problemOf(text, response.status) };
    return { kind: 'answer', value: (text === '' ? undefined : JSON.parse(text)) as T };
  } catch {
    // No network, no service, no answer in time, or an answer that is no JSON: in each case we know nothing new.
    return { kind: 'unreachable' };
  }
}

/** Little-endian float32, m/s², as the gateway sends them. */
async function samplesOf(waveId: number): Promise<Answer<WaveSamples>> {
  try {
    const response = await fetch(`/api/waves/${waveId}/samples`, {
      credentials: 'same-origin',
      cache: 'no-store',
      signal: AbortSignal.timeout(ANSWER_WITHIN_MS),
    });
    if (!response.ok)
      return { kind: 'problem', status: response.status, problem: problemOf(await response.text(), response.status) };
    const bytes = new DataView(await response.arrayBuffer());
    const accelerationMS2 = new Float64Array(Math.floor(bytes.byteLength / 4));
    for (let i = 0; i < accelerationMS2.length; i += 1) accelerationMS2[i] = bytes.getFloat32(4 * i, true);
    const sampleRateHz = Number(response.headers.get('x-sample-rate-hz'));
    return { kind: 'answer', value: { waveId, accelerationMS2, sampleRateHz } };
  } catch {
    return { kind: 'unreachable' };
  }
}

function problemOf(text: string, status: number): Problem {
  try {
    const told = JSON.parse(text) as Partial<Problem> | null;
    if (typeof told?.title === 'string') return { ...told, type: told.type ?? 'about:blank', title: told.title };
  } catch {
    // Something between us and the gateway answered in its own words.
  }
  return { type: 'about:blank', title: say`The service answered with ${status} and no reason.` };
}
