// Hearing of other plants over real HTTP and HTTPS: what they say, what stays when they fall silent, and what is wrong with a file.
import { writeFileSync } from 'node:fs';
import { createServer, type RequestListener, type Server } from 'node:http';
import { createServer as createSecure } from 'node:https';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { GroupWatch, readGroupFile } from '../../../services/group/index.ts';
import { makeCertificate } from '../../environment/certificate.ts';
import { makeFolder, type Folder } from '../../environment/folder.ts';

const STANDING = {
  plant: 'south-1',
  zone: 'America/Lima',
  now: 5,
  invented: true,
  spindles: { all: 2, hold: 0, watch: 1, noData: 0 },
  holds: { open: 0, alone: 0 },
  pressing: [],
  rejectsOpen: 0,
};

let folder: Folder;
let answer: { status: number; body: string };
const servers: Server[] = [];
beforeEach(() => {
  folder = makeFolder('group');
  answer = { status: 200, body: JSON.stringify(STANDING) };
});
afterEach(async () => {
  for (const server of servers.splice(0)) {
    server.closeAllConnections();
    await new Promise((resolve) => {
      server.close(resolve);
    });
  }
  folder.remove();
});

const respond: RequestListener = (request, response) => {
  const isKnown = request.url === '/api/standing' && request.headers.authorization === 'Bearer of-the-test';
  response.writeHead(isKnown ? answer.status : 401).end(isKnown ? answer.body : '');
};

async function listening(server: Server): Promise<number> {
  servers.push(server);
  await new Promise<void>((resolve) => {
    server.listen(0, '127.0.0.1', resolve);
  });
  return (server.address() as { port: number }).port;
}

const watch = (url: string, more: { readonly token?: string; readonly authority?: string } = {}): GroupWatch =>
  new GroupWatch({
    others: [{ name: 'south', url, token: 'of-the-test', authority: undefined, ...more }],
    clock: { now: () => 1000 },
    askEveryMs: 3_600_000,
  });

test('what it says, by its token; what was heard stays when it falls silent, with why', async () => {
  const url = `http://127.0.0.1:${await listening(createServer(respond))}`;
  const group = watch(url);
  await group.ask();
  expect(group.views()).toEqual([{ name: 'south', url, standing: STANDING, heardAt: 1000 }]);
  answer.status = 503;
  await group.ask();
  expect(group.views()).toEqual([{ name: 'south', url, standing: STANDING, heardAt: 1000, why: 'it answered 503' }]);
  answer.status = 200;
  await group.ask();
  expect(group.views()[0]?.why).toBeUndefined();
  await group.close();
});

test.each([
  ['a token that it does not know', { token: 'another' }, {}, /does not know the token/],
  ['what was not agreed', {}, { body: '{"plant":1}' }, /another release/],
  ['no JSON', {}, { body: '<html>' }, /another release/],
  ['too much', {}, { body: 'x'.repeat(200_000) }, /too much/],
])('%s', async (_, more, answered, why) => {
  Object.assign(answer, answered);
  const group = watch(`http://127.0.0.1:${await listening(createServer(respond))}`, more);
  await group.ask();
  expect(group.views()[0]).toMatchObject({ why: expect.stringMatching(why) as unknown });
  await group.close();
});

test('by HTTPS, with the authority that signed it, and not without', async () => {
  const certificate = await makeCertificate();
  const server = createSecure({ cert: certificate.cert, key: certificate.key }, respond);
  const url = `https://localhost:${await listening(server)}`;
  const trusting = watch(url, { authority: certificate.cert });
  const other = watch(url);
  await trusting.ask();
  await other.ask();
  expect(trusting.views()[0]?.standing).toEqual(STANDING);
  expect(other.views()[0]).toMatchObject({ why: expect.stringMatching(/certificate/) as unknown });
  await trusting.close();
  await other.close();
  certificate.remove();
});

describe('the file', () => {
  const file = (name: string, text: string): string => {
    const path = join(folder.path, name);
    writeFileSync(path, text);
    return path;
  };

  test('names, addresses, and tokens that lie beside it', () => {
    file('south-token', 'of-the-test\n');
    const path = file('group.yaml', '- name: south\n  url: https://south.example/\n  tokenFile: south-token\n');
    expect(readGroupFile(path)).toEqual([
      { name: 'south', url: 'https://south.example', token: 'of-the-test', authority: undefined },
    ]);
  });

  test.each([
    ['no list', 'name: south', /expected/],
    ['a field that is not known', '- {name: a, url: "https://a.example", tokenFile: t, colour: red}', /colour/],
    ['no address', '- {name: a, url: a.example, tokenFile: t}', /0\.url: expected the address/],
    [
      'a name twice',
      '- {name: a, url: "https://a.example", tokenFile: t}\n- {name: a, url: "https://b.example", tokenFile: t}',
      /each name once/,
    ],
    ['no such token', '- {name: a, url: "https://a.example", tokenFile: none}', /none cannot be read/],
    ['no YAML', '- {', /group\.yaml: /],
  ])('%s', (_, text, fault) => {
    expect(() => readGroupFile(file('group.yaml', text))).toThrow(fault);
  });
});
