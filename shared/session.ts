// Signing in: what a person sends, and what the dashboard learns about who is signed in.
import * as z from 'zod';
import { ROLES } from './rights.ts';

export const SignIn = z.object({ name: z.string().min(1).max(40), password: z.string().min(1).max(256) });
export type SignIn = z.infer<typeof SignIn>;

/** Whoever holds a one-time token: the first user of a new installation, or somebody invited. */
export const FirstUser = z.object({
  token: z.string().min(1).max(200),
  name: z.string().min(1).max(40),
  password: z.string().min(8).max(256),
});
export type FirstUser = z.infer<typeof FirstUser>;

export const SessionView = z.object({ name: z.string(), roles: z.array(z.enum(ROLES)), endsAt: z.number().optional() });
export type SessionView = z.infer<typeof SessionView>;
