// A person as the dashboard speaks for them: signed in with a password, JSON over HTTP.
import type { HoldView } from '../../shared/views.ts';
import type { Role } from '../../shared/rights.ts';
import { waitFor } from '../environment/wait-for.ts';

const PASSWORD = 'a long one of the test';

export interface Answer<T> {
  readonly status: number;
  /** What was asked for, or the problem. */
  readonly body: T;
}

export class Person {
  /** May change: the service starts anew at another port. */
  readonly #url: () => string;
  readonly #cookie: string;

  private constructor(url: () => string, cookie: string) {
    this.#url = url;
    this.#cookie = cookie;
  }

  /** With a one-time token, the first user's or an invited one's. */
  static join(url: () => string, name: string, token: string): Promise<Person> {
    return Person.#enter(url, 'first-user', { token, name, password: PASSWORD });
  }

  static signIn(url: () => string, name: string): Promise<Person> {
    return Person.#enter(url, 'session', { name, password: PASSWORD });
  }

  static async #enter(url: () => string, path: string, body: unknown): Promise<Person> {
    const response = await fetch(`${url()}/api/${path}`, jsonPost(body));
    if (response.status !== 200) throw new Error(`${path}: ${response.status} ${await response.text()}`);
    return new Person(url, (response.headers.get('set-cookie') ?? '').split(';')[0] ?? '');
  }

  async get<T>(path: string): Promise<Answer<T>> {
    const response = await fetch(`${this.#url()}${path}`, { headers: { cookie: this.#cookie } });
    return { status: response.status, body: (await response.json()) as T };
  }

  /** What is no JSON. */
  async bytes(path: string): Promise<{ readonly headers: Headers; readonly bytes: ArrayBuffer }> {
    const response = await fetch(`${this.#url()}${path}`, { headers: { cookie: this.#cookie } });
    if (response.status !== 200) throw new Error(`${path}: ${response.status} ${await response.text()}`);
    return { headers: response.headers, bytes: await response.arrayBuffer() };
  }

  post<T>(path: string, body: unknown): Promise<Answer<T>> {
    return this.#send('POST', path, body);
  }

  put<T>(path: string, body: unknown): Promise<Answer<T>> {
    return this.#send('PUT', path, body);
  }

  async #send<T>(method: 'POST' | 'PUT', path: string, body: unknown): Promise<Answer<T>> {
    const { headers, ...request } = jsonPost(body);
    const response = await fetch(`${this.#url()}${path}`, {
      ...request,
      method,
      headers: { ...headers, cookie: this.#cookie },
    });
    return { status: response.status, body: (await response.json()) as T };
  }

  /** An administrator makes another user, who chooses a password. */
  async invite(name: string, ...roles: Role[]): Promise<Person> {
    const { status, body } = await this.post<{ token: string }>('/api/users', { name, roles });
    if (status !== 201) throw new Error(`the invitation of ${name}: ${status} ${JSON.stringify(body)}`);
    return Person.join(this.#url, name, body.token);
  }

  async holds(state: 'open' | 'ended' | 'all' = 'open'): Promise<readonly HoldView[]> {
    return (await this.get<readonly HoldView[]>(`/api/holds?state=${state}&limit=1000`)).body;
  }

  /** Waits until there is a hold that fits. */
  hold(what: string, fits: (hold: HoldView) => boolean, withinMs?: number): Promise<HoldView> {
    return waitFor(what, async () => (await this.holds('all')).find(fits), withinMs);
  }
}

function jsonPost(body: unknown): { method: string; headers: Record<string, string>; body: string } {
  return { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify(body) };
}
