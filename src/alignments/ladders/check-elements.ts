import { DividingNetworkError } from "../../errors";
import type { TransferFunction } from "../../response";
import type { NormalElement } from "./normal-element";
import {
  fromPrecise,
  overComplex,
  overPrecise,
  preciseOne,
  timesComplex,
  timesPrecise,
  toPrecise,
  type Precise,
  type PreciseComplex,
} from "../../numeric/internal";

/** What a normalised ladder is meant to do: gain · sᶻ / ∏(1 − s/p), from a source resistance in Ω into 1 Ω. */
export interface WantedFunction {
  /** rad/s */
  readonly poles: TransferFunction["poles"];
  /** z */
  readonly zerosAtOrigin: number;
  readonly gain: number;
  /** Ω */
  readonly sourceResistance: number;
}

/** How near a ladder comes to its function, of the passband's level: what docs/alignments/ladders.md promises. */
export const statedAccuracy = 1e-9;

/**
 * Refuses a ladder whose values, as they are returned, don't have the function that they were made for: the chain and the
 * function's factors are evaluated with 640 binary places around each pole and compared. Nothing of the way from poles
 * to values is used again, so that whatever goes wrong on it is seen here.
 *
 * @throws DividingNetworkError `accuracy-not-reached`
 */
export function checkElements(caller: string, elements: readonly NormalElement[], wanted: WantedFunction, within = statedAccuracy): void {
  const { worst, at } = deviation(elements, wanted);
  if (worst <= within) return;
  throw new DividingNetworkError(
    "accuracy-not-reached",
    `${caller}: the ladder's values, as double precision holds them, must have their function to ${within} of its passband, `
      + `and miss it by ${worst.toPrecision(2)} near ω = ${at.toPrecision(4)} rad/s`,
    "Choose a lower order, poles less close to each other or to the imaginary axis, or resistances less far apart",
  );
}

/** The largest difference between ladder and function, relative to the function's level there or in the passband, and where (rad/s) it is. */
function deviation(elements: readonly NormalElement[], wanted: WantedFunction): { readonly worst: number; readonly at: number } {
  const scale = 2 ** Math.round(wanted.poles.reduce((sum, { re, im }) => sum + Math.log2(Math.hypot(re, im)), 0) / wanted.poles.length);
  const poles = wanted.poles.map(({ re, im }) => ({ re: re / scale, im: im / scale }));
  const chain = elements.map(({ placement, part, value }) => ({ placement, part, value: toPrecise(value * scale) }));
  const gain = toPrecise(wanted.gain * scale ** wanted.zerosAtOrigin);
  const source = toPrecise(wanted.sourceResistance);
  const one: PreciseComplex = { re: preciseOne(), im: 0n };
  const found = testFrequencies(poles).flatMap((at) => {
    const w = toPrecise(at);
    const [factors, inverse] = [factorsAt(poles, w), chainAt(chain, source, w)];
    // A pole within 2⁻³²⁰ of the axis: there is no number to compare.
    if (isZero(factors) || isZero(inverse)) return [];
    const asked = overComplex(powerOf(w, wanted.zerosAtOrigin, gain), factors);
    const own = overComplex(one, inverse);
    return [{ at, level: size(asked), difference: size({ re: own.re - asked.re, im: own.im - asked.im }) / Math.max(1, blur(poles, at)) }];
  });
  const passband = wanted.zerosAtOrigin === 0 ? wanted.gain : Math.max(...found.map(({ level }) => level));
  return found
    .map(({ at, level, difference }) => ({ worst: difference / Math.max(passband, level), at: at * scale }))
    .reduce((before, each) => (each.worst <= before.worst ? before : each), { worst: 0, at: 0 });
}

/** Around each pole: below it, at it, at its resonance and above it, rad/s; each once, as many families have their poles on a circle. */
function testFrequencies(poles: TransferFunction["poles"]): number[] {
  const around = poles
    .filter(({ im }) => im >= 0)
    .flatMap(({ re, im }) => {
      const at = Math.hypot(re, im);
      return [at / 3, at / 1.3, at, 1.3 * at, ...(im > 0 ? [im] : [])];
    });
  return [...new Set(around.map((at) => Number(at.toPrecision(12))))];
}

/** How many times 1e-9 a rounding of the poles by 1e-14 changes the function, where a pole next to the axis makes that more. */
function blur(poles: TransferFunction["poles"], w: number): number {
  return 1e-5 * poles.reduce((sum, { re, im }) => sum + Math.hypot(re, im) / Math.hypot(re, w - im), 0);
}

/** V(source)/V(load) at jω, by the chain worked back from 1 V across 1 Ω. */
function chainAt(
  chain: readonly { readonly placement: string; readonly part: string; readonly value: Precise }[],
  source: Precise,
  w: Precise,
): PreciseComplex {
  let [vr, vi, ir, ii] = [preciseOne(), 0n, preciseOne(), 0n];
  for (let k = chain.length - 1; k >= 0; k--) {
    const { placement, part, value } = chain[k]!;
    const series = placement === "series";
    // The series part's reactance, or the shunt part's susceptance.
    const x = series === (part === "inductor") ? timesPrecise(w, value) : -overPrecise(preciseOne(), timesPrecise(w, value));
    if (series) [vr, vi] = [vr - timesPrecise(x, ii), vi + timesPrecise(x, ir)];
    else [ir, ii] = [ir - timesPrecise(x, vi), ii + timesPrecise(x, vr)];
  }
  return { re: vr + timesPrecise(source, ir), im: vi + timesPrecise(source, ii) };
}

/** ∏(1 − jω/p) */
function factorsAt(poles: TransferFunction["poles"], w: Precise): PreciseComplex {
  let product: PreciseComplex = { re: preciseOne(), im: 0n };
  for (const { re, im } of poles) {
    const [x, y] = [toPrecise(re), toPrecise(im)];
    if (im === 0) product = timesComplex(product, { re: preciseOne(), im: -overPrecise(w, x) });
    if (!(im > 0)) continue;
    const square = timesPrecise(x, x) + timesPrecise(y, y);
    product = timesComplex(product, {
      re: preciseOne() - overPrecise(timesPrecise(w, w), square),
      im: -overPrecise(2n * timesPrecise(x, w), square),
    });
  }
  return product;
}

/** factor · (jω)ᶻ */
function powerOf(w: Precise, z: number, factor: Precise): PreciseComplex {
  let value: PreciseComplex = { re: factor, im: 0n };
  for (let k = 0; k < z; k++) value = { re: -timesPrecise(value.im, w), im: timesPrecise(value.re, w) };
  return value;
}

function isZero({ re, im }: PreciseComplex): boolean {
  return re === 0n && im === 0n;
}

function size({ re, im }: PreciseComplex): number {
  return Math.hypot(fromPrecise(re), fromPrecise(im));
}
