// The passes of a self-sorting Fourier transform: one butterfly per factor of the length, on interleaved complex numbers.
// They are alike on purpose: written out, each has its operands in registers. A pass for any factor needs rows to loop over.

/**
 * One pass takes `span` points apart into `radix` parts, `stride` interleaved transforms at once, and writes them in the order that
 * the next pass reads (Stockham's arrangement: no bit reversal). Twiddles: exp(−2πi·p·k/span) for p = 0 … span/radix − 1,
 * k = 1 … radix − 1. Van Loan, Computational Frameworks for the Fast Fourier Transform (1992), section 1.7.
 */
export interface FftPass {
  readonly radix: number;
  readonly span: number;
  readonly stride: number;
  readonly twiddles: Float64Array;
}

export function pass2({ span, stride, twiddles }: FftPass, from: Float64Array, to: Float64Array): void {
  const parts = span >> 1;
  const width = 2 * stride;
  const apart = width * parts;
  for (let p = 0; p < parts; p += 1) {
    const wr = twiddles[2 * p]!;
    const wi = twiddles[2 * p + 1]!;
    const end = width * (p + 1);
    let o = 2 * width * p;
    for (let i = width * p; i < end; i += 2, o += 2) {
      const ar = from[i]!;
      const ai = from[i + 1]!;
      const br = from[i + apart]!;
      const bi = from[i + apart + 1]!;
      to[o] = ar + br;
      to[o + 1] = ai + bi;
      const dr = ar - br;
      const di = ai - bi;
      to[o + width] = dr * wr - di * wi;
      to[o + width + 1] = dr * wi + di * wr;
    }
  }
}

const SIN_60 = Math.sqrt(3) / 2;

export function pass3({ span, stride, twiddles }: FftPass, from: Float64Array, to: Float64Array): void {
  const parts = span / 3;
  const width = 2 * stride;
  const apart = width * parts;
  for (let p = 0; p < parts; p += 1) {
    const w1r = twiddles[4 * p]!;
    const w1i = twiddles[4 * p + 1]!;
    const w2r = twiddles[4 * p + 2]!;
    const w2i = twiddles[4 * p + 3]!;
    const end = width * (p + 1);
    let o = 3 * width * p;
    for (let i = width * p; i < end; i += 2, o += 2) {
      const ar = from[i]!;
      const ai = from[i + 1]!;
      const br = from[i + apart]!;
      const bi = from[i + apart + 1]!;
      const cr = from[i + 2 * apart]!;
      const ci = from[i + 2 * apart + 1]!;
      const sr = br + cr;
      const si = bi + ci;
      const mr = ar - 0.5 * sr;
      const mi = ai - 0.5 * si;
      const nr = SIN_60 * (bi - ci);
      const ni = SIN_60 * (cr - br);
      to[o] = ar + sr;
      to[o + 1] = ai + si;
      const er = mr + nr;
      const ei = mi + ni;
      to[o + width] = er * w1r - ei * w1i;
      to[o + width + 1] = er * w1i + ei * w1r;
      const fr = mr - nr;
      const fi = mi - ni;
      to[o + 2 * width] = fr * w2r - fi * w2i;
      to[o + 2 * width + 1] = fr * w2i + fi * w2r;
    }
  }
}

export function pass4({ span, stride, twiddles }: FftPass, from: Float64Array, to: Float64Array): void {
  const parts = span >> 2;
  const width = 2 * stride;
  const apart = width * parts;
  for (let p = 0; p < parts; p += 1) {
    const w1r = twiddles[6 * p]!;
    const w1i = twiddles[6 * p + 1]!;
    const w2r = twiddles[6 * p + 2]!;
    const w2i = twiddles[6 * p + 3]!;
    const w3r = twiddles[6 * p + 4]!;
    const w3i = twiddles[6 * p + 5]!;
    const end = width * (p + 1);
    let o = 4 * width * p;
    for (let i = width * p; i < end; i += 2, o += 2) {
      const ar = from[i]!;
      const ai = from[i + 1]!;
      const br = from[i + apart]!;
      const bi = from[i + apart + 1]!;
      const cr = from[i + 2 * apart]!;
      const ci = from[i + 2 * apart + 1]!;
      const dr = from[i + 3 * apart]!;
      const di = from[i + 3 * apart + 1]!;
      const acr = ar + cr;
      const aci = ai + ci;
      const bdr = br + dr;
      const bdi = bi + di;
      const xr = ar - cr;
      const xi = ai - ci;
      const yr = bi - di;
      const yi = dr - br;
      to[o] = acr + bdr;
      to[o + 1] = aci + bdi;
      const er = xr + yr;
      const ei = xi + yi;
      to[o + width] = er * w1r - ei * w1i;
      to[o + width + 1] = er * w1i + ei * w1r;
      const fr = acr - bdr;
      const fi = aci - bdi;
      to[o + 2 * width] = fr * w2r - fi * w2i;
      to[o + 2 * width + 1] = fr * w2i + fi * w2r;
      const gr = xr - yr;
      const gi = xi - yi;
      to[o + 3 * width] = gr * w3r - gi * w3i;
      to[o + 3 * width + 1] = gr * w3i + gi * w3r;
    }
  }
}

const COS_72 = Math.cos((2 * Math.PI) / 5);
const COS_144 = Math.cos((4 * Math.PI) / 5);
const SIN_72 = Math.sin((2 * Math.PI) / 5);
const SIN_144 = Math.sin((4 * Math.PI) / 5);

export function pass5({ span, stride, twiddles }: FftPass, from: Float64Array, to: Float64Array): void {
  const parts = span / 5;
  const width = 2 * stride;
  const apart = width * parts;
  for (let p = 0; p < parts; p += 1) {
    const w1r = twiddles[8 * p]!;
    const w1i = twiddles[8 * p + 1]!;
    const w2r = twiddles[8 * p + 2]!;
    const w2i = twiddles[8 * p + 3]!;
    const w3r = twiddles[8 * p + 4]!;
    const w3i = twiddles[8 * p + 5]!;
    const w4r = twiddles[8 * p + 6]!;
    const w4i = twiddles[8 * p + 7]!;
    const end = width * (p + 1);
    let o = 5 * width * p;
    for (let i = width * p; i < end; i += 2, o += 2) {
      const ar = from[i]!;
      const ai = from[i + 1]!;
      const j = i + apart;
      const k = j + apart;
      const l = k + apart;
      const m = l + apart;
      const b1r = from[j]! + from[m]!;
      const b1i = from[j + 1]! + from[m + 1]!;
      const d1r = from[j]! - from[m]!;
      const d1i = from[j + 1]! - from[m + 1]!;
      const b2r = from[k]! + from[l]!;
      const b2i = from[k + 1]! + from[l + 1]!;
      const d2r = from[k]! - from[l]!;
      const d2i = from[k + 1]! - from[l + 1]!;
      to[o] = ar + b1r + b2r;
      to[o + 1] = ai + b1i + b2i;
      const er = ar + COS_72 * b1r + COS_144 * b2r;
      const ei = ai + COS_72 * b1i + COS_144 * b2i;
      const fr = ar + COS_144 * b1r + COS_72 * b2r;
      const fi = ai + COS_144 * b1i + COS_72 * b2i;
      const gr = SIN_72 * d1i + SIN_144 * d2i;
      const gi = SIN_72 * d1r + SIN_144 * d2r;
      const hr = SIN_144 * d1i - SIN_72 * d2i;
      const hi = SIN_144 * d1r - SIN_72 * d2r;
      turned(to, o + width, er + gr, ei - gi, w1r, w1i);
      turned(to, o + 2 * width, fr + hr, fi - hi, w2r, w2i);
      turned(to, o + 3 * width, fr - hr, fi + hi, w3r, w3i);
      turned(to, o + 4 * width, er - gr, ei + gi, w4r, w4i);
    }
  }
}

/** Writes a complex number turned by a twiddle; small enough to be inlined. */
function turned(to: Float64Array, at: number, re: number, im: number, wr: number, wi: number): void {
  to[at] = re * wr - im * wi;
  to[at + 1] = re * wi + im * wr;
}

/** Any other prime, by its definition: r² operations for each r points. */
export function passPrime(pass: FftPass, from: Float64Array, to: Float64Array, roots: Float64Array): void {
  const { radix, span, stride, twiddles } = pass;
  const parts = span / radix;
  const width = 2 * stride;
  const apart = width * parts;
  for (let p = 0; p < parts; p += 1) {
    for (let q = 0; q < width; q += 2) {
      for (let k = 0; k < radix; k += 1) {
        let re = 0;
        let im = 0;
        for (let j = 0; j < radix; j += 1) {
          const root = 2 * ((j * k) % radix);
          const xr = from[width * p + q + j * apart]!;
          const xi = from[width * p + q + j * apart + 1]!;
          re += xr * roots[root]! - xi * roots[root + 1]!;
          im += xr * roots[root + 1]! + xi * roots[root]!;
        }
        const o = radix * width * p + k * width + q;
        if (k === 0) {
          to[o] = re;
          to[o + 1] = im;
        } else {
          const t = 2 * ((radix - 1) * p + k - 1);
          turned(to, o, re, im, twiddles[t]!, twiddles[t + 1]!);
        }
      }
    }
  }
}
