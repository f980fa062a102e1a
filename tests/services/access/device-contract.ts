// What access promises about devices, whatever its tables stand in.
import { describe, expect, test } from 'vitest';
import { benches, type OpenTables } from './bench.ts';

export function deviceContract(name: string, openTables: OpenTables): void {
  const { bench } = benches(openTables);

  describe(`device credentials on ${name}`, () => {
    test('a device is let in with its own secret only, shown once', async () => {
      const b = await bench();
      const credential = { device: 'sensor-3', kind: 'sensor', serves: ['S-3'] } as const;
      const enrolled = await b.access.enrol('Ada', credential);
      const other = await b.access.enrol('Ada', { ...credential, device: 'sensor-4' });
      if (enrolled.kind !== 'enrolled' || other.kind !== 'enrolled') throw new Error('not enrolled');
      expect(Buffer.from(enrolled.secret, 'base64url')).toHaveLength(24);
      expect(await b.access.checkDevice('sensor-3', enrolled.secret)).toEqual(credential);
      expect(await b.access.checkDevice('sensor-3', other.secret)).toBeUndefined();
      expect(await b.access.checkDevice('__proto__', enrolled.secret)).toBeUndefined();
      expect(await b.access.enrol('Ada', credential)).toMatchObject({ code: 'name-taken' });
      expect(JSON.stringify(await b.access.devices())).not.toContain(enrolled.secret);
    });

    test('rotation overlaps; revoking ends everything at once and says so; enrolling anew is possible then', async () => {
      const b = await bench();
      const credential = { device: 'sensor-3', kind: 'sensor', serves: ['S-3'] } as const;
      const first = await b.access.enrol('Ada', credential);
      const second = await b.access.rotate('Ada', 'sensor-3', 60_000);
      if (first.kind !== 'enrolled' || second.kind !== 'enrolled') throw new Error('not enrolled');
      expect(await b.access.checkDevice('sensor-3', first.secret)).toBeDefined();
      expect(await b.access.checkDevice('sensor-3', second.secret)).toBeDefined();
      expect((await b.access.devices())[0]).toMatchObject({ secretsInForce: 2 });
      b.pass(60_000);
      expect(await b.access.checkDevice('sensor-3', first.secret)).toBeUndefined();
      expect(await b.access.checkDevice('sensor-3', second.secret)).toBeDefined();
      expect(await b.access.revoke('Ada', 'sensor-3')).toBe(true);
      expect(await b.access.revoke('Ada', 'sensor-3')).toBe(false);
      expect(await b.access.checkDevice('sensor-3', second.secret)).toBeUndefined();
      expect(b.changes.at(-1)).toEqual({ kind: 'device-revoked', device: 'sensor-3' });
      expect(await b.access.rotate('Ada', 'sensor-3')).toMatchObject({ code: 'revoked' });
      expect(await b.access.enrol('Ada', { ...credential, serves: ['S-5'] })).toMatchObject({ kind: 'enrolled' });
    });
  });
}
