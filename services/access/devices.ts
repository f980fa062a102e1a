// Device credentials: one secret each, shown once; rotated with an overlap, revoked at once.
import { DEVICE_KINDS, isId } from '../../shared/ids.ts';
import { say } from '../../shared/language/index.ts';
import { logged, refuse, type Context } from './context.ts';
import type { DeviceCredential, DeviceView, Enrolled } from './faces.ts';
import { hashOfSecret, newDeviceSecret, sameHash } from './secret.ts';
import { needed, numberOf, numberOrNone, statement, textOf, type Row } from './tables.ts';

export async function devices({ tables, clock }: Context): Promise<readonly DeviceView[]> {
  const rows = await tables.rows(
    `SELECT d.device, d.kind, d.serves, d.created_at, d.created_by, d.revoked_at,
       (SELECT COUNT(*) FROM device_secrets s WHERE s.device = d.device AND (s.ends_at IS NULL OR s.ends_at > ?)) AS secrets
     FROM devices d ORDER BY d.device_folded`,
    clock.now(),
  );
  return rows.map((row) => {
    const revokedAt = numberOrNone(row, 'revoked_at');
    return {
      ...credentialOf(row),
      createdAt: numberOf(row, 'created_at'),
      createdBy: textOf(row, 'created_by'),
      secretsInForce: numberOf(row, 'secrets'),
      ...(revokedAt === undefined ? {} : { revokedAt }),
    };
  });
}

/** A device that was revoked may be enrolled again; one in force is rotated instead. */
export async function enrol(context: Context, by: string, credential: DeviceCredential): Promise<Enrolled> {
  const { device, kind, serves } = credential;
  if (!isId(device)) {
    return refuse('bad-name', [{ pointer: '/device', want: say`1 to 40 letters, digits or hyphens`, got: device }]);
  }
  const [alike] = await context.tables.rows('SELECT device FROM devices WHERE device_folded = ?', device.toLowerCase());
  if (alike !== undefined && textOf(alike, 'device') !== device) return refuse('name-taken');
  const secret = newDeviceSecret();
  const now = context.clock.now();
  const written = await context.tables.write(
    needed(
      `INSERT INTO devices (device, device_folded, kind, serves, created_at, created_by, revoked_at)
       VALUES (?, ?, ?, ?, ?, ?, NULL)
       ON CONFLICT (device) DO UPDATE SET kind = excluded.kind, serves = excluded.serves,
         created_at = excluded.created_at, created_by = excluded.created_by, revoked_at = NULL
       WHERE devices.revoked_at IS NOT NULL`,
      device,
      device.toLowerCase(),
      kind,
      JSON.stringify(serves),
      now,
      by,
    ),
    statement('INSERT INTO device_secrets (device, hash, made_at) VALUES (?, ?, ?)', device, hashOfSecret(secret), now),
    logged(context, { who: by, what: 'device-enrolled', subject: `${device} as ${kind}`, from: '' }),
  );
  if (!written) return refuse('name-taken');
  context.tell({ kind: 'device-enrolled', credential });
  return { kind: 'enrolled', credential, secret };
}

export async function rotate(context: Context, by: string, device: string, overlapMs: number): Promise<Enrolled> {
  const [row] = await context.tables.rows(
    'SELECT device, kind, serves, revoked_at FROM devices WHERE device = ?',
    device,
  );
  if (row === undefined) return refuse('not-known');
  if (row['revoked_at'] !== null) return refuse('revoked');
  const secret = newDeviceSecret();
  const now = context.clock.now();
  const endsAt = now + overlapMs;
  await context.tables.write(
    statement('DELETE FROM device_secrets WHERE device = ? AND ends_at <= ?', device, now),
    statement(
      'UPDATE device_secrets SET ends_at = ? WHERE device = ? AND (ends_at IS NULL OR ends_at > ?)',
      endsAt,
      device,
      endsAt,
    ),
    statement('INSERT INTO device_secrets (device, hash, made_at) VALUES (?, ?, ?)', device, hashOfSecret(secret), now),
    logged(context, { who: by, what: 'device-rotated', subject: device, from: '' }),
  );
  return { kind: 'enrolled', credential: credentialOf(row), secret };
}

export async function revoke(context: Context, by: string, device: string): Promise<boolean> {
  const revoked = await context.tables.write(
    needed('UPDATE devices SET revoked_at = ? WHERE device = ? AND revoked_at IS NULL', context.clock.now(), device),
    statement('DELETE FROM device_secrets WHERE device = ?', device),
    logged(context, { who: by, what: 'device-revoked', subject: device, from: '' }),
  );
  if (revoked) context.tell({ kind: 'device-revoked', device });
  return revoked;
}

export async function checkDevice(
  { tables, clock }: Context,
  device: string,
  secret: string,
): Promise<DeviceCredential | undefined> {
  const rows = await tables.rows(
    `SELECT d.device, d.kind, d.serves, s.hash FROM devices d JOIN device_secrets s ON s.device = d.device
     WHERE d.device = ? AND d.revoked_at IS NULL AND (s.ends_at IS NULL OR s.ends_at > ?)`,
    device,
    clock.now(),
  );
  const hash = hashOfSecret(secret);
  const right = rows.find((row) => sameHash(textOf(row, 'hash'), hash));
  return right === undefined ? undefined : credentialOf(right);
}

function credentialOf(row: Row): DeviceCredential {
  const kind = DEVICE_KINDS.find((known) => known === row['kind']);
  if (kind === undefined) throw new Error(`device ${textOf(row, 'device')} has a kind that this version does not know`);
  const serves: unknown = JSON.parse(textOf(row, 'serves'));
  const ids = Array.isArray(serves) ? serves.filter((id): id is string => typeof id === 'string') : [];
  return { device: textOf(row, 'device'), kind, serves: ids };
}
