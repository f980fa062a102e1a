// The description of the interface in OpenAPI 3.1, made from the same schemas that check the requests.
import swagger from '@fastify/swagger';
import { jsonSchemaTransform, jsonSchemaTransformObject } from 'fastify-type-provider-zod';
import * as z from 'zod';
import { GateAnswer } from '../../shared/gate.ts';
import { Problem } from '../../shared/problem.ts';
import { Advice } from '../../shared/advice.ts';
import { AnsweringView } from '../../shared/answering.ts';
import { Travels } from '../../shared/travels.ts';
import { ReferenceView } from '../../shared/reference-view.ts';
import { RecordLine, RecordPage, VerificationView } from '../../shared/record.ts';
import { RibbonsView } from '../../shared/ribbons.ts';
import { SessionView } from '../../shared/session.ts';
import { AssemblyRow, AssemblyView } from '../../shared/assembly-views.ts';
import { BenchView, ToolRoomView } from '../../shared/tool-room.ts';
import {
  FloorView,
  HoldView,
  IntakeView,
  RejectView,
  SeriesView,
  SpindleRow,
  SpindleView,
} from '../../shared/views.ts';
import { OneWave, SpectrogramView, WaveRow, WavesView } from '../../shared/wave-views.ts';
import { SIGNED_IN, type App } from './app.ts';

/** Named in the description instead of written out wherever they occur. */
const NAMED = {
  Advice,
  AnsweringView,
  AssemblyRow,
  AssemblyView,
  BenchView,
  FloorView,
  GateAnswer,
  HoldView,
  IntakeView,
  Problem,
  ReferenceView,
  RecordLine,
  RecordPage,
  RejectView,
  RibbonsView,
  SeriesView,
  SessionView,
  SpindleRow,
  SpindleView,
  SpectrogramView,
  ToolRoomView,
  Travels,
  VerificationView,
  WaveRow,
  OneWave,
  WavesView,
};

const DESCRIPTION = `What the dashboard uses, and what other programs of the plant may use. Times are milliseconds UTC; numbers carry
their unit in their name. Everything that goes wrong is told as RFC 9457 problem details. A session cookie is needed, got by
POST /api/session. The answers advise: limits of the machine and tool makers govern, and local rules.`;

/** Before the routes, which it collects as they are added. */
export async function addOpenApi(app: App, version: string): Promise<void> {
  for (const [id, schema] of Object.entries(NAMED)) {
    if (!z.globalRegistry.has(schema)) z.globalRegistry.add(schema, { id });
  }
  await app.register(swagger, {
    openapi: {
      openapi: '3.1.0',
      info: {
        title: 'Counterpoise',
        version,
        description: DESCRIPTION,
        license: { name: 'Apache-2.0', identifier: 'Apache-2.0' },
      },
      components: {
        securitySchemes: { session: { type: 'apiKey', in: 'cookie', name: 'counterpoise' } },
      },
      security: [{ session: [] }],
    },
    transform: jsonSchemaTransform,
    transformObject: jsonSchemaTransformObject,
  });
  app.get('/api/openapi.json', { config: { who: SIGNED_IN }, schema: { hide: true } }, () => app.swagger());
}
