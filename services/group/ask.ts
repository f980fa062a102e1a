// One question to another plant's service: its standing, small, soon, or not at all.
import { get as getPlain, type IncomingMessage } from 'node:http';
import { get as getSecure } from 'node:https';
import { say } from '../../shared/language/index.ts';
import { PlantStanding } from '../../shared/group.ts';
import type { OtherPlant } from './group-file.ts';

const ANSWER_WITHIN_MS = 10_000;
const ANSWER_BYTES_MAX = 100_000;

export const STANDING_PATH = '/api/standing';

/** Rejects with the reason in words. */
export async function askStanding({ url, token, authority }: OtherPlant): Promise<PlantStanding> {
  const answer = await answerTo(url, { authorization: `Bearer ${token}` }, authority);
  if (answer.status === 404 || answer.status === 401)
    throw new Error(say`it does not know the token, or says nothing of itself to other plants`);
  if (answer.status !== 200) throw new Error(say`it answered ${answer.status ?? 0}`);
  const read = PlantStanding.safeParse(jsonOf(answer.body));
  if (!read.success) throw new Error(say`what it answered is not what was agreed: is it of another release?`);
  return read.data;
}

interface Answer {
  readonly status: number | undefined;
  readonly body: string;
}

function answerTo(url: string, headers: Record<string, string>, ca: string | undefined): Promise<Answer> {
  const get = url.startsWith('https:') ? getSecure : getPlain;
  const options = { headers, timeout: ANSWER_WITHIN_MS, ...(ca === undefined ? {} : { ca }) };
  return new Promise((resolve, reject) => {
    const request = get(`${url}${STANDING_PATH}`, options, (response) => {
      void bodyOf(response).then((body) => resolve({ status: response.statusCode, body }), reject);
    });
    request.on('timeout', () => request.destroy(new Error(say`no answer within ${ANSWER_WITHIN_MS / 1000} s`)));
    request.on('error', reject);
  });
}

async function bodyOf(response: IncomingMessage): Promise<string> {
  let body = '';
  response.setEncoding('utf8');
  for await (const piece of response as AsyncIterable<string>) {
    body += piece;
    if (body.length > ANSWER_BYTES_MAX) throw new Error(say`it answered too much`);
  }
  return body;
}

function jsonOf(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}
