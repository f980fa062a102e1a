// A link of the chain as people note it elsewhere: its position, a colon, its hash in hexadecimal.
import type { Link } from './chain.ts';

export const linkText = ({ position, hash }: Link): string => `${position}:${Buffer.from(hash).toString('hex')}`;

/** Undefined where the text is none. */
export function linkOfText(text: string): Link | undefined {
  const [, position, hash] = /^(\d{1,15}):([0-9a-f]{64})$/i.exec(text.trim()) ?? [];
  if (position === undefined || hash === undefined) return undefined;
  return { position: Number(position), hash: Buffer.from(hash, 'hex') };
}
