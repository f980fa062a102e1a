// What may name a device, a spindle, an assembly or a plant: one grammar for topics, messages and screens.
import * as z from 'zod';

/** 1 to 40 letters, digits or hyphens; never a topic separator, a wildcard or a space. */
export const ID_PATTERN = /^[A-Za-z0-9-]{1,40}$/;

export const Id = z
  .string()
  .regex(ID_PATTERN, 'expected 1 to 40 letters, digits or hyphens')
  .meta({ description: '1 to 40 letters, digits or hyphens' });

export function isId(text: string): boolean {
  return ID_PATTERN.test(text);
}

export const SUBJECT_KINDS = ['spindle', 'assembly', 'bench', 'plant'] as const;
export type SubjectKind = (typeof SUBJECT_KINDS)[number];

/** What a hold or a state is about. */
export const Subject = z.object({ kind: z.enum(SUBJECT_KINDS), id: Id });
export type Subject = z.infer<typeof Subject>;

export const DEVICE_KINDS = ['bench', 'sensor', 'machine', 'reader'] as const;
export type DeviceKind = (typeof DEVICE_KINDS)[number];

export { ROLES, type Role } from './rights.ts';
