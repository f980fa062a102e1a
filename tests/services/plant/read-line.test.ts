// What each kind of line is read as, and what is said of those that are none.
import { describe, expect, test } from 'vitest';
import { readLine, type LineFault } from '../../../services/plant/index.ts';
import { RecordedLine } from '../../../shared/recording.ts';

const AT = '2026-11-24T07:31:05.120Z';
const line = (fields: Record<string, unknown>): string => JSON.stringify({ topic: 'x', at: AT, ...fields });
const act = (envelope: Record<string, unknown>, person = 'eva'): string =>
  line({ topic: `counterpoise/v1/p/act/${person}`, envelope });

interface Bad {
  readonly name: string;
  readonly text: string;
  readonly why: RegExp;
}

const BAD: readonly Bad[] = [
  { name: 'no JSON', text: 'topic=x', why: /one JSON object a line/ },
  { name: 'a list', text: '[]', why: /line: / },
  { name: 'no topic', text: JSON.stringify({ at: AT, envelope: {} }), why: /topic: / },
  { name: 'a time that is none', text: line({ at: '2026-02-30T00:00:00Z', envelope: {} }), why: /at: .*RFC 3339/ },
  { name: 'neither envelope nor bytes', text: line({}), why: /envelope: expected either/ },
  { name: 'both', text: line({ envelope: {}, base64: 'AA==' }), why: /envelope: expected either/ },
  {
    name: 'a problem of what could be read',
    text: line({ envelope: {}, problem: { type: 't', title: 't' } }),
    why: /problem: /,
  },
  { name: 'a position that is none', text: line({ envelope: {}, position: 0 }), why: /position: / },
  { name: 'bytes that are no base64', text: line({ base64: '%' }), why: /base64: / },
  {
    name: 'an act nobody knows',
    text: act({ type: 'counterpoise.act.dance.v1' }),
    why: /envelope\.type: expected one of/,
  },
  { name: 'a reading again of nothing', text: act({ type: 'counterpoise.act.retried.v1' }), why: /data\.rejected: / },
];

test.each(BAD)('refused: $name', ({ text, why }) => {
  const read = readLine(text);
  expect(read.kind).toBe('fault');
  expect((read as LineFault).why).toMatch(why);
});

describe('read', () => {
  test('a message: its bytes are those of the envelope', () => {
    const read = readLine(line({ envelope: { id: 'm-1' }, position: 5 }));
    expect(read).toMatchObject({ kind: 'delivered', at: Date.parse(AT), position: 5 });
    if (read.kind !== 'delivered') return;
    expect(read.delivered).toMatchObject({ topic: 'x', message: { id: 'm-1' }, connection: 0, dup: false });
    expect(Buffer.from(read.delivered.payload).toString()).toBe('{"id":"m-1"}');
  });

  test('bytes, with why they were rejected', () => {
    const problem = { type: 'urn:x', title: 'why' };
    const read = readLine(line({ base64: Buffer.from('no JSON').toString('base64'), problem }));
    if (read.kind !== 'delivered') throw new Error(read.kind);
    expect(Buffer.from(read.delivered.payload).toString()).toBe('no JSON');
    expect(read.delivered.message).toBeUndefined();
    expect(read.delivered.rejectedFor).toEqual(problem);
  });

  test('an act, with the roles that there are', () => {
    const envelope = { type: 'counterpoise.act.hold.v1', id: 'a-1', roles: 'engineer king', data: { act: 'take' } };
    expect(readLine(act(envelope))).toEqual({
      kind: 'act',
      at: Date.parse(AT),
      position: undefined,
      plant: 'p',
      act: 'hold-act',
      id: 'a-1',
      actor: { name: 'eva', roles: ['engineer'] },
      data: { act: 'take' },
    });
  });

  test('a tick; a topic that only looks like an act is a message that strayed in', () => {
    expect(readLine(act({ type: 'counterpoise.act.tick.v1' }, 'service')).kind).toBe('tick');
    expect(readLine(line({ topic: 'elsewhere/act/eva', envelope: {} })).kind).toBe('delivered');
  });
});

test('the quick way for plain lines says what the schema says', () => {
  const texts = [
    ...BAD.map(({ text }) => text).filter((text) => text.startsWith('{')),
    line({ envelope: {} }),
    act({}),
  ];
  for (const text of texts) {
    const isLine = RecordedLine.safeParse(JSON.parse(text)).success;
    const read = readLine(text);
    expect(`${text} ${read.kind === 'fault' && !read.why.startsWith('envelope.')}`).toBe(`${text} ${!isLine}`);
  }
});
