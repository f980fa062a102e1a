// Bytes of a text file as bytes that hold ASCII as it is, whatever Unicode form they came in; and its words where they are read.
import { say } from '../language/index.ts';

export type PlainText =
  | { readonly kind: 'text'; readonly bytes: Uint8Array; readonly from: number; readonly remarks: readonly string[] }
  | { readonly kind: 'other'; readonly why: string };

/** So many bytes are looked at to tell text from anything else. */
const LOOKED_AT_BYTES = 4096;
const TAB = 9;
const SPACE = 32;
/** Tabulator, line feed, form feed, carriage return. */
const isControlOfText = (byte: number): boolean => byte >= TAB && byte <= 13;

export function plainTextOf(bytes: Uint8Array): PlainText {
  if (startsWith(bytes, [0xef, 0xbb, 0xbf])) return checked(bytes, 3, []);
  if (startsWith(bytes, [0xff, 0xfe, 0, 0]) || startsWith(bytes, [0, 0, 0xfe, 0xff]))
    return { kind: 'other', why: say`It is text in UTF-32. Expected UTF-8: save it anew as UTF-8.` };
  const remarks = [say`The file is in UTF-16; it was read as that.`];
  if (startsWith(bytes, [0xff, 0xfe])) return checked(fromUtf16(bytes, 0, 1), 0, remarks);
  if (startsWith(bytes, [0xfe, 0xff])) return checked(fromUtf16(bytes, 1, 0), 0, remarks);
  return checked(bytes, 0, []);
}

function checked(bytes: Uint8Array, from: number, remarks: readonly string[]): PlainText {
  const end = Math.min(bytes.length, from + LOOKED_AT_BYTES);
  for (let at = from; at < end; at += 1) {
    const byte = bytes[at] ?? 0;
    if (byte < SPACE && !isControlOfText(byte))
      return {
        kind: 'other',
        why: say`It is neither a WAV file nor plain text: byte ${at + 1} is ${byte}. Expected a table as text (CSV) in UTF-8, or a WAV file.`,
      };
  }
  return { kind: 'text', bytes, from, remarks };
}

const startsWith = (bytes: Uint8Array, mark: readonly number[]): boolean => mark.every((byte, i) => bytes[i] === byte);

/** Code units to UTF-8; what stands beyond the first plane is only ever part of a name, and loses nothing that is counted. */
function fromUtf16(bytes: Uint8Array, low: number, high: number): Uint8Array {
  const units = Math.floor(bytes.length / 2);
  const out = new Uint8Array(units * 3);
  let length = 0;
  for (let i = 1; i < units; i += 1) {
    const unit = (bytes[2 * i + low] ?? 0) | ((bytes[2 * i + high] ?? 0) << 8);
    if (unit < 0x80) out[length++] = unit;
    else if (unit < 0x800) {
      out[length++] = 0xc0 | (unit >> 6);
      out[length++] = 0x80 | (unit & 0x3f);
    } else {
      out[length++] = 0xe0 | (unit >> 12);
      out[length++] = 0x80 | ((unit >> 6) & 0x3f);
      out[length++] = 0x80 | (unit & 0x3f);
    }
  }
  return out.subarray(0, length);
}

/** The words of a stretch: UTF-8, or byte by byte as Latin-1 where it is no UTF-8. */
export function wordsIn(bytes: Uint8Array, from: number, to: number): string {
  let text = '';
  for (let at = from; at < to;) {
    const first = bytes[at] ?? 0;
    const more = first < 0x80 ? 0 : first >= 0xe0 && first < 0xf0 ? 2 : first >= 0xc2 && first < 0xe0 ? 1 : -1;
    if (more < 0 || at + more >= to) return latin1(bytes, from, to);
    let unit = more === 0 ? first : first & (0x3f >> more);
    for (let i = 1; i <= more; i += 1) {
      const next = bytes[at + i] ?? 0;
      if ((next & 0xc0) !== 0x80) return latin1(bytes, from, to);
      unit = (unit << 6) | (next & 0x3f);
    }
    text += String.fromCharCode(unit);
    at += more + 1;
  }
  return text;
}

function latin1(bytes: Uint8Array, from: number, to: number): string {
  let text = '';
  for (let at = from; at < to; at += 1) text += String.fromCharCode(bytes[at] ?? 0);
  return text;
}
