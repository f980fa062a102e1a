// A token in a request's head, compared so that nothing can be learned from how long it takes.
import { createHash, timingSafeEqual } from 'node:crypto';
import type { FastifyRequest } from 'fastify';

export function bearerIs({ headers }: FastifyRequest, token: string): boolean {
  const digest = (text: string): Buffer => createHash('sha256').update(text).digest();
  return timingSafeEqual(digest(headers.authorization ?? ''), digest(`Bearer ${token}`));
}
