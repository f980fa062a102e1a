// Compression of merged stretches; what is written at every commit is left as it is.
import { brotliCompress, brotliDecompressSync, constants } from 'node:zlib';
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

/**
 * On the thread that asks: going through months of readings, handing each stretch to another thread and back took longer than
 * unpacking it.
 */
export function unpacked(bytes: Uint8Array): Uint8Array {
  if (bytes[0] !== BROTLI) return bytes;
  // Readings shrink to less than half, and come out in one piece: in more they would be put together once again.
  const chunkSize = Math.max(PIECE_BYTES_MIN, UNPACKED_TIMES * bytes.length);
  return brotliDecompressSync(bytes.subarray(1), { chunkSize });
}

const BROTLI_QUALITY = 5;
const PIECE_BYTES_MIN = 16 * 1024;
const UNPACKED_TIMES = 3;
