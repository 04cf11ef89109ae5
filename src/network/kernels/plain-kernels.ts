import { BLOCK, OP } from "./operations";

/** What `run` is told beside the program: all in bytes, as for the WebAssembly kernels. */
export type Run = (code: number, end: number, size: number, at: number, stride: number, growth: number, omega: number) => void;

/** The kernels in plain TypeScript on one memory: the same arithmetic in the same order as the WebAssembly ones. */
export function plainKernels(memory: Float64Array, integers: Int32Array): Run {
  return (code, end, size, at, stride, growth, omega) => {
    const n = size >> 3;
    const [offset, far, g, w] = [at >> 3, stride >> 3, growth >> 3, (omega + at) >> 3];
    for (let pc = code >> 2; pc < end >> 2; pc += 4) {
      const d = integers[pc + 1]! >> 3;
      const a = integers[pc + 2]! >> 3;
      const b = integers[pc + 3]! >> 3;
      switch (integers[pc]) {
        case OP.resistance:
          for (let i = 0; i < n; i++) {
            memory[d + i] = 1 / memory[a]!;
            memory[d + BLOCK + i] = 0;
          }
          break;
        case OP.addResistance:
          for (let i = 0; i < n; i++) memory[d + i] = memory[d + i]! + 1 / memory[a]!;
          break;
        case OP.coil:
          coil(memory, d, a, w, n, 0);
          break;
        case OP.addCoil:
          coil(memory, d, a, w, n, 1);
          break;
        case OP.capacitor:
          capacitor(memory, d, a, w, n, 0);
          break;
        case OP.addCapacitor:
          capacitor(memory, d, a, w, n, 1);
          break;
        case OP.table:
          for (let i = 0; i < n; i++) {
            memory[d + i] = memory[a + offset + i]!;
            memory[d + BLOCK + i] = memory[a + far + offset + i]!;
          }
          break;
        case OP.addTable:
          for (let i = 0; i < n; i++) {
            memory[d + i] = memory[d + i]! + memory[a + offset + i]!;
            memory[d + BLOCK + i] = memory[d + BLOCK + i]! + memory[a + far + offset + i]!;
          }
          break;
        case OP.move:
          for (let i = 0; i < n; i++) {
            memory[d + i] = memory[a + i]!;
            memory[d + BLOCK + i] = memory[a + BLOCK + i]!;
          }
          break;
        case OP.negate:
          for (let i = 0; i < n; i++) {
            memory[d + i] = -memory[a + i]!;
            memory[d + BLOCK + i] = -memory[a + BLOCK + i]!;
          }
          break;
        case OP.add:
          for (let i = 0; i < n; i++) {
            memory[d + i] = memory[d + i]! + memory[a + i]!;
            memory[d + BLOCK + i] = memory[d + BLOCK + i]! + memory[a + BLOCK + i]!;
          }
          break;
        case OP.subtract:
          for (let i = 0; i < n; i++) {
            memory[d + i] = memory[d + i]! - memory[a + i]!;
            memory[d + BLOCK + i] = memory[d + BLOCK + i]! - memory[a + BLOCK + i]!;
          }
          break;
        case OP.sum:
          for (let i = 0; i < n; i++) {
            memory[d + i] = memory[a + i]! + memory[b + i]!;
            memory[d + BLOCK + i] = memory[a + BLOCK + i]! + memory[b + BLOCK + i]!;
          }
          break;
        case OP.reciprocal:
          reciprocal(memory, d, a, n);
          break;
        case OP.multiply:
          multiply(memory, d, a, b, n, 1);
          break;
        case OP.multiplyNegate:
          multiply(memory, d, a, b, n, -1);
          break;
        case OP.multiplyAdd:
          multiplyAdd(memory, d, a, b, n);
          break;
        case OP.multiplySubtract:
          multiplySubtract(memory, d, a, b, n);
          break;
        case OP.ratio:
          ratio(memory, d, a, b, g, n);
          break;
        case OP.star:
        case OP.starAdd:
        case OP.starKeep:
        case OP.starAddKeep: {
          const operation = integers[pc]!;
          star(memory, d, a, b, g, n, operation === OP.starAdd || operation === OP.starAddKeep, operation === OP.starKeep || operation === OP.starAddKeep);
          break;
        }
        case OP.out:
          for (let i = 0; i < n; i++) {
            memory[d + offset + i] = memory[a + i]! + 0;
            memory[d + far + offset + i] = memory[a + BLOCK + i]! + 0;
          }
          break;
        case OP.outNegated:
          for (let i = 0; i < n; i++) {
            memory[d + offset + i] = -memory[a + i]! + 0;
            memory[d + far + offset + i] = -memory[a + BLOCK + i]! + 0;
          }
          break;
        case OP.timesTable:
          timesTable(memory, d, a, b + offset, b + far + offset, n, false);
          break;
        case OP.timesTableAdd:
          timesTable(memory, d, a, b + offset, b + far + offset, n, true);
          break;
        case OP.powerError:
          powerError(memory, d, a + offset, a + far + offset, b, n);
          break;
        case OP.sumReal:
          for (let i = 0; i < n; i++) memory[d + (i & 1)] = memory[d + (i & 1)]! + memory[a + i]!;
          break;
        case OP.slopeCoil:
          slopeCoil(memory, d, a, b, w, n);
          break;
        case OP.slopeCapacitor:
          slopeCapacitor(memory, d, a, b, w, n);
          break;
        case OP.squareTimes:
          squareTimes(memory, d, a, b, n);
          break;
        default:
          break;
        case OP.rankOne:
          rankOne(memory, d, a + offset, far, n);
          break;
        case OP.outProduct:
          outProduct(memory, d + offset, d + far + offset, a, b, n);
          break;
        case OP.resistanceSlope: {
          const conductance = 1 / memory[a]!;
          for (let i = 0; i < n; i++) {
            memory[d + i] = -(conductance * conductance);
            memory[d + BLOCK + i] = 0;
          }
          break;
        }
        case OP.inductanceSlope:
          coilDerivative(memory, d, a, w, n, true);
          break;
        case OP.dcrSlope:
          coilDerivative(memory, d, a, w, n, false);
          break;
        case OP.capacitanceSlope:
          capacitorDerivative(memory, d, a, w, n, 0);
          break;
        case OP.esrSlope:
          capacitorDerivative(memory, d, a, w, n, 1);
          break;
        case OP.lossSlope:
          capacitorDerivative(memory, d, a, w, n, 2);
          break;
      }
    }
  };
}

function coil(m: Float64Array, d: number, a: number, w: number, n: number, add: number): void {
  const [inductance, r] = [m[a]!, m[a + 1]!];
  for (let i = 0; i < n; i++) {
    const x = m[w + i]! * inductance;
    const u = 1 / (r * r + x * x);
    const re = r * u;
    const im = -(x * u);
    m[d + i] = add === 0 ? re : m[d + i]! + re;
    m[d + BLOCK + i] = add === 0 ? im : m[d + BLOCK + i]! + im;
  }
}

function capacitor(m: Float64Array, d: number, a: number, w: number, n: number, add: number): void {
  const [capacitance, esr, loss] = [m[a]!, m[a + 1]!, m[a + 2]!];
  for (let i = 0; i < n; i++) {
    const t = m[w + i]! * capacitance;
    const x = t * esr + loss;
    const u = t / (1 + x * x);
    const re = u * x;
    m[d + i] = add === 0 ? re : m[d + i]! + re;
    m[d + BLOCK + i] = add === 0 ? u : m[d + BLOCK + i]! + u;
  }
}

function reciprocal(m: Float64Array, d: number, a: number, n: number): void {
  for (let i = 0; i < n; i++) {
    const sr = m[a + i]!;
    const si = m[a + BLOCK + i]!;
    const u = 1 / (sr * sr + si * si);
    m[d + i] = sr * u;
    m[d + BLOCK + i] = -(si * u);
  }
}

function multiply(m: Float64Array, d: number, a: number, b: number, n: number, sign: number): void {
  for (let i = 0; i < n; i++) {
    const ar = m[a + i]!;
    const ai = m[a + BLOCK + i]!;
    const br = m[b + i]!;
    const bi = m[b + BLOCK + i]!;
    m[d + i] = sign * (ar * br - ai * bi);
    m[d + BLOCK + i] = sign * (ar * bi + ai * br);
  }
}

function multiplyAdd(m: Float64Array, d: number, a: number, b: number, n: number): void {
  for (let i = 0; i < n; i++) {
    const ar = m[a + i]!;
    const ai = m[a + BLOCK + i]!;
    const br = m[b + i]!;
    const bi = m[b + BLOCK + i]!;
    m[d + i] = m[d + i]! + (ar * br - ai * bi);
    m[d + BLOCK + i] = m[d + BLOCK + i]! + (ar * bi + ai * br);
  }
}

function multiplySubtract(m: Float64Array, d: number, a: number, b: number, n: number): void {
  for (let i = 0; i < n; i++) {
    const ar = m[a + i]!;
    const ai = m[a + BLOCK + i]!;
    const br = m[b + i]!;
    const bi = m[b + BLOCK + i]!;
    m[d + i] = m[d + i]! - (ar * br - ai * bi);
    m[d + BLOCK + i] = m[d + BLOCK + i]! - (ar * bi + ai * br);
  }
}

function ratio(m: Float64Array, d: number, a: number, b: number, g: number, n: number): void {
  for (let i = 0; i < n; i++) {
    const ar = m[a + i]!;
    const ai = m[a + BLOCK + i]!;
    const br = m[b + i]!;
    const bi = m[b + BLOCK + i]!;
    const re = ar * br - ai * bi;
    const im = ar * bi + ai * br;
    m[d + i] = re;
    m[d + BLOCK + i] = im;
    m[g + i] = m[g + i]! + (re * re + im * im);
  }
}

function star(m: Float64Array, d: number, a: number, b: number, g: number, n: number, add: boolean, keep: boolean): void {
  for (let i = 0; i < n; i++) {
    const ar = m[a + i]!;
    const ai = m[a + BLOCK + i]!;
    const br = m[b + i]!;
    const bi = m[b + BLOCK + i]!;
    const sumRe = ar + br;
    const sumIm = ai + bi;
    const u = 1 / (sumRe * sumRe + sumIm * sumIm);
    const sr = sumRe * u;
    const si = -(sumIm * u);
    const tr = ar * sr - ai * si;
    const ti = ar * si + ai * sr;
    const re = tr * br - ti * bi;
    const im = tr * bi + ti * br;
    m[d + i] = add ? m[d + i]! + re : re;
    m[d + BLOCK + i] = add ? m[d + BLOCK + i]! + im : im;
    if (keep) {
      const kr = br * sr - bi * si;
      const ki = br * si + bi * sr;
      m[a + i] = tr;
      m[a + BLOCK + i] = ti;
      m[b + i] = kr;
      m[b + BLOCK + i] = ki;
    }
    m[g + i] = m[g + i]! + (tr * tr + ti * ti);
  }
}

function timesTable(m: Float64Array, d: number, a: number, re: number, im: number, n: number, add: boolean): void {
  for (let i = 0; i < n; i++) {
    const ar = m[a + i]!;
    const ai = m[a + BLOCK + i]!;
    const br = m[re + i]!;
    const bi = m[im + i]!;
    const x = ar * br - ai * bi;
    const y = ar * bi + ai * br;
    m[d + i] = add ? m[d + i]! + x : x;
    m[d + BLOCK + i] = add ? m[d + BLOCK + i]! + y : y;
  }
}

function powerError(m: Float64Array, d: number, inverse: number, weight: number, sum: number, n: number): void {
  for (let i = 0; i < n; i++) {
    const re = m[d + i]!;
    const im = m[d + BLOCK + i]!;
    const t = m[inverse + i]!;
    const e = (re * re + im * im) * t - 1;
    const we = m[weight + i]! * e;
    m[sum + (i & 1)] = m[sum + (i & 1)]! + we * e;
    const v = we * t * 4;
    m[d + i] = v * re;
    m[d + BLOCK + i] = -(v * im);
  }
}

function slopeCoil(m: Float64Array, d: number, a: number, b: number, w: number, n: number): void {
  const [inductance, r] = [m[a]!, m[a + 1]!];
  for (let i = 0; i < n; i++) {
    const omega = m[w + i]!;
    const x = omega * inductance;
    const u = 1 / (r * r + x * x);
    const yr = r * u;
    const yi = -(x * u);
    const sr = yr * yr - yi * yi;
    const half = yr * yi;
    const si = half + half;
    const qr = m[b + i]!;
    const qi = m[b + BLOCK + i]!;
    const lane = i & 1;
    m[d + lane] = m[d + lane]! + omega * (sr * qi + si * qr);
    m[d + 2 + lane] = m[d + 2 + lane]! + (sr * qr - si * qi);
  }
}

function slopeCapacitor(m: Float64Array, d: number, a: number, b: number, w: number, n: number): void {
  const [capacitance, esr, loss] = [m[a]!, m[a + 1]!, m[a + 2]!];
  for (let i = 0; i < n; i++) {
    const omega = m[w + i]!;
    const t = omega * capacitance;
    const x = t * esr + loss;
    const square = x * x;
    const one = 1 + square;
    const u = 1 / (one * one);
    const sr = (1 - square) * u;
    const half = x * u;
    const si = -(half + half);
    const qr = m[b + i]!;
    const qi = m[b + BLOCK + i]!;
    const hi = sr * qi + si * qr;
    const hr = sr * qr - si * qi;
    const lane = i & 1;
    m[d + lane] = m[d + lane]! + omega * (hi + loss * hr);
    m[d + 2 + lane] = m[d + 2 + lane]! + t * t * hr;
    m[d + 4 + lane] = m[d + 4 + lane]! + t * hr;
  }
}

function squareTimes(m: Float64Array, d: number, a: number, b: number, n: number): void {
  for (let i = 0; i < n; i++) {
    const ar = m[a + i]!;
    const ai = m[a + BLOCK + i]!;
    const br = m[b + i]!;
    const bi = m[b + BLOCK + i]!;
    const t = ar * ar - ai * ai;
    const half = ar * ai;
    const u = half + half;
    m[d + i] = t * br - u * bi;
    m[d + BLOCK + i] = t * bi + u * br;
  }
}

function outProduct(m: Float64Array, outRe: number, outIm: number, a: number, b: number, n: number): void {
  for (let i = 0; i < n; i++) {
    const ar = m[a + i]!;
    const ai = m[a + BLOCK + i]!;
    const br = m[b + i]!;
    const bi = m[b + BLOCK + i]!;
    m[outRe + i] = ar * br - ai * bi;
    m[outIm + i] = ar * bi + ai * br;
  }
}

function coilDerivative(m: Float64Array, d: number, a: number, w: number, n: number, ofInductance: boolean): void {
  const inductance = m[a]!;
  const r = m[a + 1]!;
  for (let i = 0; i < n; i++) {
    const omega = m[w + i]!;
    const x = omega * inductance;
    const u = 1 / (r * r + x * x);
    const yr = r * u;
    const yi = -(x * u);
    const sr = yr * yr - yi * yi;
    const half = yr * yi;
    const si = half + half;
    m[d + i] = ofInductance ? omega * si : -sr;
    m[d + BLOCK + i] = ofInductance ? -(omega * sr) : -si;
  }
}

function capacitorDerivative(m: Float64Array, d: number, a: number, w: number, n: number, index: number): void {
  const capacitance = m[a]!;
  const esr = m[a + 1]!;
  const loss = m[a + 2]!;
  for (let i = 0; i < n; i++) {
    const omega = m[w + i]!;
    const t = omega * capacitance;
    const x = t * esr + loss;
    const square = x * x;
    const one = 1 + square;
    const u = 1 / (one * one);
    const hr = (1 - square) * u;
    const half = x * u;
    const hi = -(half + half);
    const scale = index === 1 ? t * t : t;
    m[d + i] = index === 0 ? -(omega * (hi + loss * hr)) : scale * hr;
    m[d + BLOCK + i] = index === 0 ? omega * (hr - loss * hi) : scale * hi;
  }
}

function rankOne(m: Float64Array, d: number, table: number, far: number, n: number): void {
  for (let i = 0; i < n; i++) {
    const ar = m[d + i]!;
    const ai = m[d + BLOCK + i]!;
    let br = m[table + 2 * far + i]!;
    let bi = m[table + 3 * far + i]!;
    const sumRe = 1 + (ar * br - ai * bi);
    const sumIm = ar * bi + ai * br;
    const u = 1 / (sumRe * sumRe + sumIm * sumIm);
    const sr = sumRe * u;
    const si = -(sumIm * u);
    br = m[table + i]!;
    bi = m[table + far + i]!;
    const tr = ar * br - ai * bi;
    const ti = ar * bi + ai * br;
    m[d + i] = m[table + 4 * far + i]! - (tr * sr - ti * si);
    m[d + BLOCK + i] = m[table + 5 * far + i]! - (tr * si + ti * sr);
  }
}
