// The usual port where it is free, any other where it is not.
import { createServer } from 'node:net';
import { expect, test } from 'vitest';
import { portOrAny } from '../../../services/commands/free-port.ts';
import { LOOPBACK } from '../../environment/loopback.ts';

test('taken, and free again', async () => {
  const server = createServer();
  await new Promise<void>((resolve) => server.listen(0, LOOPBACK, resolve));
  const address = server.address();
  const port = address !== null && typeof address === 'object' ? address.port : 0;
  expect(await portOrAny(LOOPBACK, port)).toBe(0);
  await new Promise((resolve) => server.close(resolve));
  expect(await portOrAny(LOOPBACK, port)).toBe(port);
});
