// What the service says of itself on MQTT: that it is there, that it stopped or was lost, and what time it is.
import { deviceSource } from '../shared/envelope.ts';
import { rfc3339Of, type Instant } from '../shared/time.ts';
import { backTopic, outTopic, PLANT_STATUS_TYPE } from '../shared/topics.ts';
import type { Publication } from './holds/index.ts';

export type PlantStatus = 'online' | 'stopped' | 'lost';

const TIME_TYPE = 'counterpoise.time.v1';

/** Retained, so that a lamp or a control can tell "no hold" from "nobody there". */
export function plantStatus(plant: string, at: Instant, status: PlantStatus): Publication {
  const said = status === 'online' ? { online: true } : { online: false, reason: status };
  const message = { type: PLANT_STATUS_TYPE, id: `plant-${status}`, subject: `plant/${plant}`, data: said };
  return { topic: outTopic(plant, 'plant', plant, 'status'), payload: sealed(plant, at, message), retain: true };
}

/** For a device without a clock of its own. */
export function timeFor(plant: string, at: Instant, device: string): Publication {
  const message = {
    type: TIME_TYPE,
    id: `time-${device}`,
    subject: deviceSource(plant, device),
    data: { time: rfc3339Of(at) },
  };
  return { topic: backTopic(plant, device, 'time'), payload: sealed(plant, at, message), retain: false };
}

interface Message {
  readonly type: string;
  /** Made fresh by the time it is said at. */
  readonly id: string;
  readonly subject: string;
  readonly data: unknown;
}

function sealed(plant: string, at: Instant, { type, id, subject, data }: Message): string {
  const time = rfc3339Of(at);
  const source = `/plant/${plant}/service`;
  const datacontenttype = 'application/json';
  return JSON.stringify({
    specversion: '1.0',
    id: `${id}-${time}`,
    source,
    type,
    subject,
    time,
    datacontenttype,
    data,
  });
}
