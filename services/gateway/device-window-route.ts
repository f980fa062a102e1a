// Raw windows that are larger than an MQTT message: a device posts them with its own secret and is given the receipt.
import type { FastifyReply, FastifyRequest } from 'fastify';
import * as z from 'zod';
import { Id } from '../../shared/ids.ts';
import { say } from '../../shared/language/index.ts';
import { Receipt } from '../../shared/receipts.ts';
import type { DeviceCredential } from '../access/index.ts';
import { answers } from './answers.ts';
import type { App, Parts } from './app.ts';
import { DeviceSecrets } from './device-secrets.ts';
import { HttpProblem } from './problems.ts';

const MEDIA_TYPES = [
  'application/json',
  'application/cbor',
  'application/cloudevents+json',
  'application/octet-stream',
];
/** RFC 7617, 2. */
const CHALLENGE = 'Basic realm="counterpoise", charset="UTF-8"';
const OfDevice = z.object({ device: Id });
/** Whoever comes while others are read is soon served. */
const RETRY_AFTER_S = 2;

const SENT_ANSWERS = {
  ...answers(Receipt.describe('it was kept before')),
  201: Receipt.describe('kept'),
  422: Receipt.describe('refused, with the problem'),
};

type WindowParts = Pick<Parts, 'plant' | 'access' | 'limits'>;

export function addDeviceWindowRoute(app: App, { plant, access, limits }: WindowParts): void {
  const secrets = new DeviceSecrets(access, limits);
  const sending = new Map<FastifyRequest, DeviceCredential>();
  /** Before a byte of the body is read. */
  const admit = async (request: FastifyRequest, reply: FastifyReply): Promise<void> => {
    // A name that no device can have is as wrong as one that none has.
    const device = OfDevice.safeParse(request.params).data?.device ?? '';
    const credential = await secrets.check(request, device).catch((failure: unknown) => {
      if (failure instanceof HttpProblem && failure.statusCode === 401) reply.header('www-authenticate', CHALLENGE);
      throw failure;
    });
    if (sending.size >= limits.windowsAtOnceMax || [...sending.values()].some((other) => other.device === device)) {
      throw new HttpProblem('full', { retryAfterS: RETRY_AFTER_S });
    }
    sending.set(request, credential);
    // Once answered, and also when the device goes away in the middle.
    reply.raw.once('close', () => sending.delete(request));
  };
  // As its own scope: what it reads as bytes is JSON everywhere else.
  void app.register(async (scope: App) => {
    scope.removeAllContentTypeParsers();
    const options = { parseAs: 'buffer', bodyLimit: limits.windowBytesMax } as const;
    scope.addContentTypeParser(MEDIA_TYPES, options, (_request, body, done) => done(null, body));
    scope.addContentTypeParser('*', (_request, _payload, done) => done(new HttpProblem('not-window-type')));
    scope.post(
      '/api/devices/:device/wave',
      {
        config: { who: 'anyone' },
        bodyLimit: limits.windowBytesMax,
        preParsing: admit,
        schema: {
          tags: ['windows'],
          description:
            'For devices, with HTTP Basic: the device as the name, its own secret as the password. The body is the message ' +
            'of the channel wave, in JSON or CBOR.',
          params: OfDevice,
          response: SENT_ANSWERS,
        },
      },
      async (request, reply) => {
        const credential = sending.get(request);
        const { body } = request;
        if (credential === undefined || !(body instanceof Uint8Array)) throw new HttpProblem('not-json');
        if (isText(body) && body.length > limits.windowJsonBytesMax) throw new HttpProblem('too-large', IN_CBOR);
        const receipt = await plant.receive(request.params.device, credential, body);
        return reply.code(STATUS[receipt.outcome]).send(receipt);
      },
    );
  });
}

/** No text in UTF-8 begins with such a byte as a map in CBOR does. */
const isText = (body: Uint8Array): boolean => (body[0] ?? 0) < 0x80;
const IN_CBOR = { detail: say`A window that is so large is taken in CBOR only.` };

const STATUS: Readonly<Record<Receipt['outcome'], 200 | 201 | 422>> = {
  kept: 201,
  'kept-with-remarks': 201,
  duplicate: 200,
  rejected: 422,
};
