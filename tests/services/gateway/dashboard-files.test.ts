// The dashboard's files and what every answer tells the browser; and what machines ask: alive, ready, counts.
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { brotliCompressSync, brotliDecompressSync, gunzipSync, gzipSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { serviceMetrics } from '../../../services/metrics.ts';
import { makeFolder } from '../../environment/folder.ts';
import { openBench, type Bench } from './bench.ts';

const SCRIPT = 'export {};';
const folder = makeFolder('dashboard');
let bench: Bench;
let ready = true;
let amiss: string | undefined;
beforeAll(async () => {
  mkdirSync(join(folder.path, 'assets'));
  writeFileSync(join(folder.path, 'index.html'), '<!doctype html><title>Counterpoise</title>');
  writeFileSync(join(folder.path, 'worker.js'), '0;');
  writeFileSync(join(folder.path, 'manifest.webmanifest'), '{"name":"Counterpoise"}');
  writeFileSync(join(folder.path, 'assets', 'main-abc123.js'), SCRIPT);
  for (const [ending, packed] of [
    ['gz', gzipSync(SCRIPT)],
    ['br', brotliCompressSync(SCRIPT)],
  ] as const)
    writeFileSync(join(folder.path, 'assets', `main-abc123.js.${ending}`), packed);
  writeFileSync(join(folder.path, '.hidden'), 'not for anybody');
  bench = await openBench({
    dashboardDir: folder.path,
    settings: {
      ready: () => Promise.resolve([{ part: 'plant', ready, ...(amiss === undefined ? {} : { amiss }) }]),
      moreMetrics: () => [{ name: 'counterpoise_devices', help: 'Devices connected.', kind: 'gauge', value: 12 }],
    },
  });
});
afterAll(async () => {
  await bench.close();
  folder.remove();
});

const page = { accept: 'text/html' };

describe('files', () => {
  test('hashed files are kept for ever, the page is looked up each time', async () => {
    const script = await bench.gateway.inject('/assets/main-abc123.js');
    expect(script.headers['cache-control']).toBe('public, max-age=31536000, immutable');
    expect(script.headers['content-type']).toContain('javascript');
    const index = await bench.gateway.inject('/');
    expect(index.headers['cache-control']).toBe('no-cache');
    const etag = index.headers.etag ?? '';
    const again = await bench.gateway.inject({ url: '/', headers: { 'if-none-match': etag } });
    expect(again.statusCode).toBe(304);
  });

  test('the page itself is there for whoever asks for it, a worker too, packed or not', async () => {
    for (const headers of [{ accept: '*/*', 'accept-encoding': 'gzip, br' }, { accept: 'text/html' }]) {
      const answer = await bench.gateway.inject({ url: '/', headers });
      expect(answer.statusCode).toBe(200);
      expect(answer.body).toContain('<title>Counterpoise</title>');
      expect(answer.headers['cache-control']).toBe('no-cache');
    }
  });

  test('the worker and the manifest are looked up each time, under the policy that lets them in', async () => {
    const worker = await bench.gateway.inject('/worker.js');
    expect(worker.headers['cache-control']).toBe('no-cache');
    expect(worker.headers['content-type']).toContain('javascript');
    const manifest = await bench.gateway.inject('/manifest.webmanifest');
    expect(manifest.headers['cache-control']).toBe('no-cache');
    expect(manifest.headers['content-type']).toContain('application/manifest+json');
    const policy = String(manifest.headers['content-security-policy']);
    expect(policy).toContain("manifest-src 'self'");
    expect(policy).toContain("worker-src 'self'");
  });

  test('a file goes out packed as the browser takes it, and is the same one unpacked', async () => {
    const ask = (encoding: string) =>
      bench.gateway.inject({ url: '/assets/main-abc123.js', headers: { 'accept-encoding': encoding } });
    const [gz, br, plain] = [await ask('gzip, deflate'), await ask('gzip, br'), await ask('identity')];
    expect([gz, br, plain].map(({ headers }) => headers['content-encoding'])).toEqual(['gzip', 'br', undefined]);
    const unpacked = [gunzipSync(gz.rawPayload), brotliDecompressSync(br.rawPayload), plain.rawPayload];
    expect(unpacked.map(String)).toEqual([SCRIPT, SCRIPT, SCRIPT]);
    for (const { headers } of [gz, br, plain]) {
      expect(headers['content-type']).toContain('javascript');
      expect(headers['cache-control']).toBe('public, max-age=31536000, immutable');
      expect(headers.vary).toContain('accept-encoding');
    }
  });

  test('the page answers at its own addresses; missing files and the interface stay missing', async () => {
    const spindle = await bench.gateway.inject({ url: '/spindles/S-3', headers: page });
    expect(spindle.statusCode).toBe(200);
    expect(spindle.body).toContain('<title>Counterpoise</title>');
    for (const url of ['/assets/gone.js', '/api/gone', '/.hidden', '/..%2f..%2fetc%2fpasswd']) {
      const answer = await bench.gateway.inject({ url, headers: url.startsWith('/.') ? {} : page });
      expect(answer.statusCode, url).toBeGreaterThanOrEqual(400);
      expect(answer.body, url).not.toContain('not for anybody');
    }
    expect((await bench.gateway.inject('/spindles/S-3')).statusCode).toBe(404);
  });

  test('no script but our own files, in no frame, no address passed on', async () => {
    const { headers } = await bench.gateway.inject('/');
    const policy = String(headers['content-security-policy']);
    expect(policy).toContain("default-src 'none'");
    expect(policy).toContain("script-src 'self'");
    expect(policy).toContain("frame-ancestors 'none'");
    expect(policy).not.toMatch(/unsafe|\*|upgrade-insecure/);
    expect(headers).toMatchObject({
      'x-content-type-options': 'nosniff',
      'referrer-policy': 'no-referrer',
      'cross-origin-opener-policy': 'same-origin',
    });
    expect(headers['strict-transport-security']).toBeUndefined();
    expect((await bench.gateway.inject('/api/floor')).headers['cache-control']).toBe('no-store');
  });
});

describe('for machines', () => {
  test('alive whatever happens, ready only when the parts are', async () => {
    expect((await bench.gateway.inject('/readyz')).json()).toEqual({ ready: true });
    ready = false;
    expect((await bench.gateway.inject('/readyz')).statusCode).toBe(503);
    expect((await bench.gateway.inject('/healthz')).statusCode).toBe(200);
    ready = true;
  });

  test('why not, and what is amiss although it is ready', async () => {
    ready = false;
    expect((await bench.gateway.inject('/readyz')).json()).toEqual({ ready: false, amiss: ['not ready: plant'] });
    amiss = 'the disk is full';
    expect((await bench.gateway.inject('/readyz')).json()).toEqual({ ready: false, amiss: ['the disk is full'] });
    ready = true;
    const lame = await bench.gateway.inject('/readyz');
    expect(lame.statusCode).toBe(200);
    expect(lame.json()).toEqual({ ready: true, amiss: ['the disk is full'] });
    amiss = undefined;
  });

  test('counts for this machine, in a form that can be read', async () => {
    const { body, headers } = await bench.gateway.inject('/metrics');
    expect(headers['content-type']).toContain('text/plain; version=0.0.4');
    for (const line of body.trim().split('\n')) {
      expect(line).toMatch(/^(?:# (?:HELP|TYPE) [a-z_]+ .+|[a-z_]+(?:\{status="\dxx"\})? [\d.e+-]+)$/);
    }
    expect(body).toContain('counterpoise_journal_position 7');
    expect(body).toContain('counterpoise_devices 12');
  });

  test('each count once, those of the service among them', async () => {
    const plant = { counts: { batches: 0, deliveries: 0 }, waiting: 0 };
    const analysis = { waiting: 3, analysed: 0, skipped: 0, failed: 0 };
    const whole = await openBench({
      settings: { moreMetrics: () => serviceMetrics(plant, undefined, undefined, false, analysis) },
    });
    const windows = { windows: 1, bytes: 2, bytesMax: 3, waiting: 4, skipped: 0, pinned: 0, isOver: false };
    const intake = await whole.plant.intake();
    whole.plant.intake = () => Promise.resolve({ ...intake, windows });
    const { body } = await whole.gateway.inject('/metrics');
    const names = [...body.matchAll(/^# TYPE (\S+)/gm)].map(([, name]) => name);
    expect(names).toContain('counterpoise_windows_waiting');
    expect(names.filter((name, place) => names.indexOf(name) !== place)).toEqual([]);
    await whole.close();
  });

  test('counts are not for others', async () => {
    const forwarded = await bench.gateway.inject({ url: '/metrics', headers: { 'x-forwarded-for': '10.0.0.9' } });
    expect(forwarded.statusCode).toBe(404);
    const remote = await bench.gateway.inject({ url: '/metrics', remoteAddress: '10.0.0.9' });
    expect(remote.statusCode).toBe(404);
    const other = await openBench({ settings: { metricsToken: 'count-me' } });
    expect((await other.gateway.inject('/metrics')).statusCode).toBe(404);
    const headers = { authorization: 'Bearer count-me' };
    expect((await other.gateway.inject({ url: '/metrics', remoteAddress: '10.0.0.9', headers })).statusCode).toBe(200);
    await other.close();
  });
});
