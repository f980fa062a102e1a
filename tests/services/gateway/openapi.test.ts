// The description of the interface: OpenAPI 3.1 (OpenAPI Initiative), every schema of it one of JSON Schema 2020-12.
import { Ajv2020 } from 'ajv/dist/2020.js';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { FLOOR, openBench, type Bench } from './bench.ts';

interface Operation {
  readonly responses: Record<string, { description: string; content?: Record<string, { schema: object }> }>;
  readonly parameters?: readonly { name: string; in: string; required?: boolean; schema: object }[];
  readonly requestBody?: { content: Record<string, { schema: object }> };
}
interface Description {
  readonly openapi: string;
  readonly info: { title: string; version: string };
  readonly paths: Record<string, Record<string, Operation>>;
  readonly components: { schemas: Record<string, object> };
}

let bench: Bench;
let description: Description;
beforeAll(async () => {
  bench = await openBench({ settings: { version: '0.1.0' } });
  const headers = { cookie: await bench.session('viewer') };
  description = (await bench.gateway.inject({ url: '/api/openapi.json', headers })).json<Description>();
});
afterAll(() => bench.close());

function operations(): readonly (readonly [string, Operation])[] {
  return Object.entries(description.paths).flatMap(([path, methods]) =>
    Object.entries(methods).map(([method, operation]) => [`${method} ${path}`, operation] as const),
  );
}

test('says which version of OpenAPI and of the product it is', () => {
  expect(description.openapi).toBe('3.1.0');
  expect(description.info).toMatchObject({ title: 'Counterpoise', version: '0.1.0' });
});

test('every operation has an answer and tells what goes wrong; every part of a path is a required parameter', () => {
  expect(operations().length).toBeGreaterThan(25);
  for (const [name, { responses, parameters = [] }] of operations()) {
    expect(
      Object.keys(responses).some((status) => status.startsWith('2')),
      name,
    ).toBe(true);
    expect(responses['4XX']?.content?.['application/problem+json']?.schema, name).toEqual({
      $ref: '#/components/schemas/Problem',
    });
    for (const [, part] of name.matchAll(/\{(\w+)\}/g)) {
      expect(parameters, name).toContainEqual(expect.objectContaining({ name: part, in: 'path', required: true }));
    }
  }
});

test('every schema can be used to check with, and every reference leads somewhere', () => {
  const ajv = new Ajv2020({ strict: false, formats: { 'date-time': true, uri: true } });
  ajv.addSchema({ $id: 'api:/', components: description.components });
  const schemas = operations().flatMap(([name, { responses, parameters = [], requestBody }]) =>
    [
      ...Object.values(responses).flatMap((response) => Object.values(response.content ?? {})),
      ...parameters,
      ...Object.values(requestBody?.content ?? {}),
    ].map(({ schema }) => [name, schema] as const),
  );
  expect(schemas.length).toBeGreaterThan(80);
  for (const [name, schema] of schemas) {
    const absolute = JSON.parse(JSON.stringify(schema).replaceAll('"#/components', '"api:/#/components')) as object;
    expect(() => ajv.compile(absolute), name).not.toThrow();
  }
  const floor = ajv.compile({ $ref: 'api:/#/components/schemas/FloorView' });
  expect(floor(FLOOR), JSON.stringify(floor.errors)).toBe(true);
  expect(floor({ ...FLOOR, invented: 'perhaps' })).toBe(false);
});
