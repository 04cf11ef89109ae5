import { DividingNetworkError } from "../../errors";
import { checkNumber } from "../../errors/internal";
import type { ComplexParts, TransferFunction } from "../../response";
import { checkFilter, checkList } from "./check-filter";

/**
 * The step response (output unit per unit of input) of a transfer function in closed form: the exponential of the
 * triangular matrix of its chain of first-order sections, which is exact for poles of any multiplicity and for poles that
 * nearly coincide, where a sum of residues would cancel.
 *
 * @param filter zeros and poles in rad/s, complex ones in conjugate pairs, all poles with re < 0; and gain
 * @param times s, length n; the response is 0 before 0 s
 * @returns output for an input of 0 before and 1 from 0 s on, length n
 * @throws DividingNetworkError `invalid-transfer-function`, `invalid-argument`
 * @example
 * ```ts
 * import { butterworth, stepResponseOf } from "dividing-network/alignments";
 *
 * stepResponseOf(butterworth(1), [0, 1, 20]); // [0, 0.63212, 1.00000]
 * ```
 */
export function stepResponseOf(filter: TransferFunction, times: ArrayLike<number>): Float64Array {
  const { zeros, poles, gain } = checkFilter("stepResponseOf", "filter", filter);
  const unstable = poles.find(({ re }) => !(re < 0));
  if (unstable !== undefined) {
    throw new DividingNetworkError(
      "invalid-transfer-function",
      `stepResponseOf: all poles must have a real part below 0 rad/s, got ${unstable.re} rad/s`,
    );
  }
  checkList("stepResponseOf", "times", times);
  const chain = makeChain(...sections(zeros, poles), gain);
  return Float64Array.from(times, (time, i) => {
    const t = checkNumber("stepResponseOf", `times[${i}]`, time, { unit: "s" });
    return t < 0 ? 0 : checkNumber("stepResponseOf", "the response", chainOutput(chain, t));
  });
}

/**
 * Zeros and poles in the order in which the chain takes them: each zero with a pole of about its own size. Otherwise a
 * section with a zero at 0 and a far pole would lower the signal by orders of magnitude, which the last factor would
 * bring back with the rounding errors.
 */
function sections(zeros: readonly ComplexParts[], poles: readonly ComplexParts[]): [ComplexParts[], ComplexParts[]] {
  const size = ({ re, im }: ComplexParts): number => Math.hypot(re, im);
  const free = [...poles].sort((a, b) => size(a) - size(b));
  const ordered = [...zeros].sort((a, b) => size(b) - size(a));
  const ratio = (a: number, b: number): number => Math.max(a, b) / Math.min(a, b);
  const paired = ordered.map((zero) => {
    const best =
      size(zero) === 0 ? 0 : free.reduce((at, pole, k) => (ratio(size(pole), size(zero)) < ratio(size(free[at]!), size(zero)) ? k : at), 0);
    return free.splice(best, 1)[0]!;
  });
  return [ordered, [...paired, ...free]];
}

/** State 0 is the constant input; state k + 1 belongs to pole k. Row-major, lower triangular; output weights beside it. */
interface Chain {
  readonly size: number;
  readonly re: Float64Array;
  readonly im: Float64Array;
  readonly outRe: Float64Array;
  readonly outIm: Float64Array;
}

function makeChain(zeros: readonly ComplexParts[], poles: readonly ComplexParts[], gain: number): Chain {
  const size = poles.length + 1;
  const [re, im] = [new Float64Array(size * size), new Float64Array(size * size)];
  // The signal that enters the next section, as weights of the states.
  let [signalRe, signalIm] = [new Float64Array(size), new Float64Array(size)];
  signalRe[0] = 1;
  let scale = gain;
  poles.forEach((pole, k) => {
    const zero = zeros[k];
    // (s − z)/(s − p) = 1 + (p − z)/(s − p), or |p|/(s − p)
    const input = zero === undefined ? { re: Math.hypot(pole.re, pole.im), im: 0 } : { re: pole.re - zero.re, im: pole.im - zero.im };
    if (zero === undefined) scale /= input.re;
    const row = (k + 1) * size;
    for (let c = 0; c <= k; c++) {
      re[row + c] = input.re * signalRe[c]! - input.im * signalIm[c]!;
      im[row + c] = input.re * signalIm[c]! + input.im * signalRe[c]!;
    }
    re[row + k + 1] = pole.re;
    im[row + k + 1] = pole.im;
    if (zero === undefined) [signalRe, signalIm] = [new Float64Array(size), new Float64Array(size)];
    signalRe[k + 1] = 1;
  });
  return { size, re, im, outRe: signalRe.map((value) => value * scale), outIm: signalIm.map((value) => value * scale) };
}

function chainOutput({ size, re, im, outRe, outIm }: Chain, t: number): number {
  let norm = 0;
  for (let k = 0; k < re.length; k++) norm = Math.max(norm, Math.hypot(re[k]!, im[k]!) * t * size);
  const halvings = Math.max(0, Math.ceil(Math.log2(norm)) + 1);
  if (halvings > 200) {
    throw new DividingNetworkError(
      "invalid-argument",
      `stepResponseOf: "times" must be at most about 2²⁰⁰ periods of the fastest pole, got ${t} s`,
    );
  }
  let power = triangularExponential(size, re, im, t / 2 ** halvings);
  for (let k = halvings - 1; k >= 0; k--) {
    power = lowerProduct(size, power.re, power.im, power.re, power.im);
    // The diagonal is known exactly, whatever the squarings have lost.
    for (let i = 0; i < size; i++) {
      const [x, y] = [(re[i * size + i]! * t) / 2 ** k, (im[i * size + i]! * t) / 2 ** k];
      power.re[i * size + i] = Math.exp(x) * Math.cos(y);
      power.im[i * size + i] = Math.exp(x) * Math.sin(y);
    }
  }
  let output = 0;
  for (let i = 0; i < size; i++) output += outRe[i]! * power.re[i * size]! - outIm[i]! * power.im[i * size]!;
  return output;
}

interface Pair {
  readonly re: Float64Array;
  readonly im: Float64Array;
}

/** Taylor's series of exp(M t) for a norm of at most 1/2. */
function triangularExponential(size: number, re: Float64Array, im: Float64Array, t: number): Pair {
  const sum = { re: new Float64Array(size * size), im: new Float64Array(size * size) };
  for (let i = 0; i < size; i++) sum.re[i * size + i] = 1;
  let term: Pair = { re: Float64Array.from(sum.re), im: Float64Array.from(sum.im) };
  for (let order = 1; order <= 18; order++) {
    term = lowerProduct(size, term.re, term.im, re, im);
    for (let k = 0; k < size * size; k++) {
      term.re[k]! *= t / order;
      term.im[k]! *= t / order;
      sum.re[k]! += term.re[k]!;
      sum.im[k]! += term.im[k]!;
    }
  }
  return sum;
}

/** The product of two lower triangular complex matrices. */
function lowerProduct(size: number, ar: Float64Array, ai: Float64Array, br: Float64Array, bi: Float64Array): Pair {
  const [re, im] = [new Float64Array(size * size), new Float64Array(size * size)];
  for (let i = 0; i < size; i++) {
    for (let k = 0; k <= i; k++) {
      const [x, y] = [ar[i * size + k]!, ai[i * size + k]!];
      for (let j = 0; j <= k; j++) {
        re[i * size + j]! += x * br[k * size + j]! - y * bi[k * size + j]!;
        im[i * size + j]! += x * bi[k * size + j]! + y * br[k * size + j]!;
      }
    }
  }
  return { re, im };
}
