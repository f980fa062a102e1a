// Raw windows: which there are, what was made of them, their levels over time, their samples; and asking a sensor for one now.
import * as z from 'zod';
import { say } from '../../shared/language/index.ts';
import { askedId } from '../../shared/recording.ts';
import { MAY_ASK_WAVE } from '../../shared/rights.ts';
import { MILLISECONDS_A_DAY, MILLISECONDS_A_MINUTE } from '../../shared/time.ts';
import {
  OneWave,
  SpectrogramView,
  type WaveRow,
  WAVES_CHOSEN,
  WAVES_LISTED_MAX,
  WavesView,
} from '../../shared/wave-views.ts';
import { actAs } from './act.ts';
import { acceptedAnswer, answers, found, WithId } from './answers.ts';
import { SIGNED_IN, type App, type Parts } from './app.ts';
import { personOf } from './guard.ts';
import type { PlantPort, WindowFound } from './ports.ts';
import { HttpProblem } from './problems.ts';

const LISTED_WHEN_NOT_SAID = 50;
const COLUMNS_WHEN_NOT_SAID = 300;
const LAST_INSTANT = 8.64e15;
const DAYS_WHEN_NOT_SAID = 14;

const At = z.coerce.number().int().min(0).max(LAST_INSTANT).meta({ description: 'ms UTC' });
const Channel = z.string().min(1).max(20);
const Listed = z.object({
  from: At.default(0),
  to: At.default(LAST_INSTANT),
  limit: z.coerce.number().int().min(1).max(WAVES_LISTED_MAX).default(LISTED_WHEN_NOT_SAID),
  chosen: z.enum(WAVES_CHOSEN).default('newest').describe('where there are more: the newest, or evenly over the time'),
});
const Asked = z.object({ channel: Channel.optional().describe('left out: whatever its sensor measures') });
const WithWaveId = z.object({ waveId: z.coerce.number().int().min(1).max(Number.MAX_SAFE_INTEGER) });

/** A question that is not answered by then was not heard: a sensor in reach answers within minutes (common practice, no source). */
const ASK_AGAIN_MS = 10 * MILLISECONDS_A_MINUTE;

const OCTETS = 'application/octet-stream';
const SAMPLES_ANSWER = {
  ...answers(z.unknown()),
  200: {
    description: 'Little-endian float32, m/s²; the header x-sample-rate-hz says how many a second.',
    content: { [OCTETS]: { schema: z.unknown().meta({ type: 'string', contentMediaType: OCTETS }) } },
  },
};

export function addWindowRoutes(app: App, parts: Pick<Parts, 'plant' | 'series' | 'limits'>): void {
  addWindowLists(app, parts);
  addOneWindow(app, parts);
  addAskWave(app, parts);
}

function addWindowLists(app: App, { plant, series, limits }: Pick<Parts, 'plant' | 'series' | 'limits'>): void {
  const reads = { config: { who: SIGNED_IN } };
  app.get(
    '/api/spindles/:id/waves',
    { ...reads, schema: { tags: ['windows'], params: WithId, querystring: Listed, response: answers(WavesView) } },
    async ({ params, query }) => {
      const { waves, ...rest } = await series.windows({ spindleId: params.id, ...inOrder(query) });
      return { waves: await withPins(plant, params.id, waves), ...rest };
    },
  );
  const Stretch = z.object({
    from: At.optional(),
    to: At.optional(),
    columns: z.coerce.number().int().min(1).max(limits.spectrogramColumnsMax).default(COLUMNS_WHEN_NOT_SAID),
    channel: Channel.optional().describe('left out: the one with most windows in that time'),
  });
  app.get(
    '/api/spindles/:id/spectrogram',
    {
      ...reads,
      schema: { tags: ['windows'], params: WithId, querystring: Stretch, response: answers(SpectrogramView) },
    },
    async ({ params, query: { from, to, columns, channel } }) => {
      const end = to ?? (await plant.floor()).now;
      const begin = from ?? Math.max(0, end - DAYS_WHEN_NOT_SAID * MILLISECONDS_A_DAY);
      const stretch = inOrder({ from: begin, to: end });
      return series.spectrogram({
        spindleId: params.id,
        ...stretch,
        columns,
        ...(channel === undefined ? {} : { channel }),
      });
    },
  );
}

function addOneWindow(app: App, { plant, series }: Pick<Parts, 'plant' | 'series'>): void {
  const config = { who: SIGNED_IN };
  app.get(
    '/api/waves/:waveId',
    { config, schema: { tags: ['windows'], params: WithWaveId, response: answers(OneWave) } },
    async ({ params: { waveId } }) => {
      const { spindleId, ...row } = found(await series.window(waveId), say`No raw window ${waveId} is known.`);
      const pinned = found((await withPins(plant, spindleId, [row]))[0], say`No raw window ${waveId} is known.`);
      return { ...pinned, spindleId };
    },
  );
  app.get(
    '/api/waves/:waveId/samples',
    {
      config,
      schema: { tags: ['windows'], params: WithWaveId, response: SAMPLES_ANSWER },
    },
    async ({ params: { waveId } }, reply) => {
      const kept = await plant.waveSamples(waveId);
      if (kept === undefined) {
        const detail = say`The samples of raw window ${waveId} are not kept here; what was made of it stays, where there was one.`;
        throw new HttpProblem('not-found', { detail });
      }
      reply.header('x-sample-rate-hz', kept.sampleRateHz).type(OCTETS);
      return reply.send(Buffer.from(kept.accelerationMS2.buffer));
    },
  );
}

function addAskWave(app: App, { plant }: Pick<Parts, 'plant'>): void {
  app.post(
    '/api/spindles/:id/ask-wave',
    {
      config: { who: MAY_ASK_WAVE },
      schema: {
        tags: ['windows'],
        params: WithId,
        querystring: Asked,
        response: acceptedAnswer(z.object({ asked: z.string().describe('of the question; the window names it') })),
      },
    },
    async (request, reply) => {
      const { id } = request.params;
      const { channel } = request.query;
      const { windows } = found(await plant.spindle(id), say`No spindle ${id} is known.`);
      if (windows === undefined) {
        const detail = say`No sensor of ${id} has ever sent a raw window, so that there is none to ask.`;
        throw new HttpProblem('not-accepted', { detail });
      }
      const pending = windows.asked;
      if (pending !== undefined) {
        const agoMs = (await plant.floor()).now - pending.at;
        if (agoMs < ASK_AGAIN_MS) {
          const minutes = Math.ceil((ASK_AGAIN_MS - agoMs) / MILLISECONDS_A_MINUTE);
          const detail = say`${pending.by} has asked already (${pending.id}), and the window has not come yet. Ask again in ${minutes} min.`;
          throw new HttpProblem('not-accepted', { detail });
        }
      }
      const asked = channel === undefined ? { spindleId: id } : { spindleId: id, channel };
      const position = await actAs(plant, personOf(request), 'ask-wave', asked);
      return reply.code(202).send({ asked: askedId(position) });
    },
  );
}

/** With the holds that keep their samples from being dropped. */
async function withPins(
  plant: Pick<PlantPort, 'wavePins'>,
  spindleId: string,
  waves: readonly Omit<WindowFound, 'spindleId'>[],
): Promise<WaveRow[]> {
  const pins = waves.length === 0 ? {} : await plant.wavePins(spindleId);
  return waves.map((wave) => ({ ...wave, pinnedBy: [...(pins[wave.waveId] ?? [])] }));
}

function inOrder<T extends { readonly from: number; readonly to: number }>(stretch: T): T {
  const { from, to } = stretch;
  if (from < to) return stretch;
  const errors = [{ pointer: '/to', want: say`a time after from`, got: String(to) }];
  throw new HttpProblem('not-valid', { detail: say`Look at the query.`, errors });
}
