// Compression of merged stretches; what is written at every commit is left as it is.
import { brotliCompress, brotliDecompress, brotliDecompressSync, constants } from 'node:zlib';
import { COMPRESS_BYTES_MIN } from './limits.ts';

/** First byte of compressed bytes; formats of blocks count upwards from 1 and never get here. */
const BROTLI = 0xb1;

/** Off the thread that asks, which goes on appending meanwhile. */
export function packed(bytes: Uint8Array): Promise<Uint8Array> {
  if (bytes.length < COMPRESS_BYTES_MIN) return Promise.resolve(bytes);
  const params = {
    [constants.BROTLI_PARAM_QUALITY]: BROTLI_QUALITY,
    [constants.BROTLI_PARAM_SIZE_HINT]: bytes.length,
    // A window that is larger than what there is to see takes megabytes for nothing.
    [constants.BROTLI_PARAM_LGWIN]: Math.min(constants.BROTLI_MAX_WINDOW_BITS, Math.ceil(Math.log2(bytes.length + 16))),
  };
  return new Promise((resolve, reject) => {
    brotliCompress(bytes, { params }, (error, result) => {
      if (error !== null) reject(error);
      else resolve(result.length + 1 < bytes.length ? Buffer.concat([Buffer.of(BROTLI), result]) : bytes);
    });
  });
}

export function unpacked(bytes: Uint8Array): Uint8Array {
  return bytes[0] === BROTLI ? brotliDecompressSync(bytes.subarray(1)) : bytes;
}

/** The same off the thread that asks, which looks through what it has meanwhile. */
export function unpackedAside(bytes: Uint8Array): Promise<Uint8Array> {
  if (bytes[0] !== BROTLI) return Promise.resolve(bytes);
  return new Promise((resolve, reject) => {
    brotliDecompress(bytes.subarray(1), (error, result) => {
      if (error === null) resolve(result);
      else reject(error);
    });
  });
}

const BROTLI_QUALITY = 5;
