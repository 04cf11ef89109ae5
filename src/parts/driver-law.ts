import { angular } from "./basic-laws";
import { fractionalPieces } from "./custom/compound-law";
import type { CircuitPiece, Evaluator, Law, ValueLimit } from "./law";

const above0 = { above: 0 } as const;
const LIMITS: readonly ValueLimit[] = [
  { unit: "Ω", range: above0 },
  { unit: "H", range: { min: 0 } },
  { unit: "Ω", range: above0 },
  { unit: "H", range: above0 },
  { range: above0 },
  { range: { above: 0, max: 1 } },
  { unit: "Hz", range: above0 },
  { range: above0 },
  { range: above0 },
];

/**
 * The impedance of a moving-coil driver as a law of nine values:
 * Z = re + jω·le + (re2 ∥ jω·le2) + k·(jω)ⁿ + re·(qms/qes)/(1 + j·qms·(f/fs − fs/f)).
 * A term whose leading value is 0 is absent.
 */
export const driverLaw: Law = /* @__PURE__ */ Object.freeze({
  name: "driver",
  parameters: ["re", "le", "re2", "le2", "k", "n", "fs", "qms", "qes"],
  limits: LIMITS,
  bind: (frequencies: Float64Array) => driverEvaluator(frequencies),
  ratio(values: ArrayLike<number>, offset: number, frequency: number, out: Float64Array) {
    out[0] = 1;
    out[1] = 0;
    impedanceAt(values, offset, frequency, 2 * Math.PI * frequency, out, 2);
  },
  circuit(values: readonly number[]) {
    const [re, le, re2, le2, k, n, fs, qms, qes] = values as unknown as readonly [
      number,
      number,
      number,
      number,
      number,
      number,
      number,
      number,
      number,
    ];
    const pieces: CircuitPiece[] = [{ r: re }];
    if (le > 0) pieces.push({ l: le });
    if (re2 > 0) pieces.push({ r: re2, l: le2 });
    if (k > 0) pieces.push(...fractionalPieces(k, n, 'Describe the coil by "le", "re2" and "le2"'));
    if (fs > 0) {
      const [r, w] = [(re * qms) / qes, 2 * Math.PI * fs];
      pieces.push({ r, l: r / (w * qms), c: qms / (r * w) });
    }
    return pieces;
  },
});

/** Writes Z (Ω) at one frequency to out[at], out[at + 1]. */
function impedanceAt(p: ArrayLike<number>, o: number, f: number, w: number, out: Float64Array, at: number): void {
  const re = p[o]!;
  const re2 = p[o + 2]!;
  const fs = p[o + 6]!;
  let zr = re;
  let zi = w * p[o + 1]!;
  const x2 = w * p[o + 3]!;
  // Both are there, or none.
  if (x2 > 0) {
    const size = re2 * re2 + x2 * x2;
    zr += (re2 * x2 * x2) / size;
    zi += (re2 * re2 * x2) / size;
  }
  const k = p[o + 4]!;
  if (k > 0) {
    const n = p[o + 5]!;
    const size = k * w ** n;
    zr += size * Math.cos((n * Math.PI) / 2);
    zi += size * Math.sin((n * Math.PI) / 2);
  }
  if (fs > 0 && f > 0) {
    const qms = p[o + 7]!;
    const u = qms * (f / fs - fs / f);
    const peak = (re * qms) / p[o + 8]! / (1 + u * u);
    zr += peak;
    zi -= peak * u;
  }
  out[at] = zr;
  out[at + 1] = zi;
}

/** Writes ∂Z/∂values[index] at one frequency to out[0], out[1]. */
function impedanceSlope(p: ArrayLike<number>, o: number, index: number, f: number, w: number, out: Float64Array): void {
  const [re, re2, x2, k, n] = [p[o]!, p[o + 2]!, w * p[o + 3]!, p[o + 4]!, p[o + 5]!];
  const [fs, qms, qes] = [p[o + 6]!, p[o + 7]!, p[o + 8]!];
  const motional = fs > 0 && f > 0;
  const u = motional ? qms * (f / fs - fs / f) : 0;
  // 1/(1 + ju) and its square
  const gr = 1 / (1 + u * u);
  const gi = -u * gr;
  const hr = gr * gr - gi * gi;
  const hi = 2 * gr * gi;
  let zr = 0;
  let zi = 0;
  if (index === 0) {
    zr = 1 + (motional ? (qms / qes) * gr : 0);
    zi = motional ? (qms / qes) * gi : 0;
  } else if (index === 1) zi = w;
  else if ((index === 2 || index === 3) && x2 > 0) {
    // d(re2·jx/(re2 + jx)): by re2 (jx/(re2 + jx))², by le2 jω·(re2/(re2 + jx))²
    const size = (re2 * re2 + x2 * x2) ** 2;
    const [ar, ai] = index === 2 ? [x2 * x2, re2 * x2] : [re2 * re2, -re2 * x2];
    const [sr, si] = [(ar * ar - ai * ai) / size, (2 * ar * ai) / size];
    zr = index === 2 ? sr : -w * si;
    zi = index === 2 ? si : w * sr;
  } else if ((index === 4 || index === 5) && k > 0 && w > 0) {
    const size = w ** n;
    const [cr, ci] = [size * Math.cos((n * Math.PI) / 2), size * Math.sin((n * Math.PI) / 2)];
    const [lr, li] = [Math.log(w), Math.PI / 2];
    zr = index === 4 ? cr : k * (cr * lr - ci * li);
    zi = index === 4 ? ci : k * (cr * li + ci * lr);
  } else if (motional && index === 6) {
    const scale = (((re * qms) / qes) * qms * (f / fs + fs / f)) / fs;
    zr = -scale * hi;
    zi = scale * hr;
  } else if (motional && index === 7) {
    zr = (re / qes) * hr;
    zi = (re / qes) * hi;
  } else if (motional && index === 8) {
    const scale = -(re * qms) / (qes * qes);
    zr = scale * gr;
    zi = scale * gi;
  }
  out[0] = zr;
  out[1] = zi;
}

function driverEvaluator(frequencies: Float64Array): Evaluator {
  const omega = angular(frequencies);
  const z = new Float64Array(2);
  const s = new Float64Array(2);
  return {
    admittance(values, offset, start, count, re, im, at) {
      for (let i = 0; i < count; i++) {
        impedanceAt(values, offset, frequencies[start + i]!, omega[start + i]!, z, 0);
        const size = z[0]! * z[0]! + z[1]! * z[1]!;
        re[at + i] = z[0]! / size;
        im[at + i] = -z[1]! / size;
      }
    },
    derivative(values, offset, index, start, count, re, im, at) {
      for (let i = 0; i < count; i++) {
        const [f, w] = [frequencies[start + i]!, omega[start + i]!];
        impedanceAt(values, offset, f, w, z, 0);
        impedanceSlope(values, offset, index, f, w, s);
        const size = z[0]! * z[0]! + z[1]! * z[1]!;
        const [yr, yi] = [z[0]! / size, -z[1]! / size];
        const [qr, qi] = [yr * yr - yi * yi, 2 * yr * yi];
        re[at + i] = -(qr * s[0]! - qi * s[1]!);
        im[at + i] = -(qr * s[1]! + qi * s[0]!);
      }
    },
  };
}
