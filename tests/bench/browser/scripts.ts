// Which scripts a page fetches and what they weigh on the wire.
import { get } from 'node:http';
import type { Page } from 'playwright-core';

/** The addresses of the scripts that the page asks for from now on. */
export function watchScripts(page: Page): ReadonlySet<string> {
  const seen = new Set<string>();
  page.on('request', (request) => {
    if (request.resourceType() === 'script') seen.add(request.url());
  });
  return seen;
}

/** As many bytes as the service sends for them to a browser that takes this encoding. */
export async function bytesOnWire(addresses: Iterable<string>, encoding: 'gzip' | 'br' | 'identity'): Promise<number> {
  let bytes = 0;
  for (const address of addresses) bytes += await bodyBytes(address, encoding);
  return bytes;
}

function bodyBytes(address: string, encoding: string): Promise<number> {
  return new Promise((resolve, reject) => {
    get(address, { headers: { 'accept-encoding': encoding } }, (answer) => {
      if (answer.statusCode !== 200) reject(new Error(`${address}: ${answer.statusCode}`));
      let bytes = 0;
      answer.on('data', (piece: Buffer) => (bytes += piece.length));
      answer.on('end', () => resolve(bytes));
      answer.on('error', reject);
    }).on('error', reject);
  });
}
