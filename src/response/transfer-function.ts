import { DividingNetworkError } from "../errors";
import { show } from "../errors/internal";
import { checkedGrid } from "./checked-grid";
import { writeQuotient } from "./complex-quotient";
import { finiteResponse } from "./finite-response";
import type { FrequencyResponse } from "./sampled-function";

/** A complex number as plain data. */
export interface ComplexParts {
  /** Real part. */
  readonly re: number;
  /** Imaginary part. */
  readonly im: number;
}

/**
 * A rational transfer function of s = jω by its zeros and poles: $H(s) = g \prod (s - z_k) / \prod (s - p_k)$.
 * Complex zeros and poles of a real system come in conjugate pairs, each listed.
 */
export interface TransferFunction {
  /** rad/s. */
  readonly zeros: readonly ComplexParts[];
  /** rad/s. */
  readonly poles: readonly ComplexParts[];
  /** The factor g, (rad/s)^(poles − zeros) times the unit of H. */
  readonly gain: number;
}

/**
 * Evaluates a transfer function on a grid, in the unit of the transfer function: factor by factor, without expanding
 * polynomials, so that it is exact to rounding next to poles and zeros too.
 *
 * @param filter zeros and poles in rad/s, gain; a prototype, whose corner lies at 0.159 Hz, is answered up to 10 Hz
 * @param frequencies Hz, at least 0, strictly ascending, length n
 * @returns the response at the n frequencies
 * @throws DividingNetworkError `invalid-transfer-function`; `invalid-argument` for the frequencies; `pole-on-axis` when a
 * frequency falls on a pole; `unscaled-prototype` for a prototype in place of a filter; `overflow`
 * @example
 * ```ts
 * import { levelDb, responseOf } from "dividing-network";
 *
 * const firstOrder = { zeros: [], poles: [{ re: -2 * Math.PI * 1000, im: 0 }], gain: 2 * Math.PI * 1000 };
 * levelDb(responseOf(firstOrder, [1000, 10000])); // [-3.0103, -20.0432]
 * ```
 */
export function responseOf(filter: TransferFunction, frequencies: ArrayLike<number>): FrequencyResponse {
  checkTransferFunction("responseOf", "filter", filter);
  const grid = checkedGrid("responseOf", frequencies);
  refusePrototype("responseOf", filter, grid[grid.length - 1]!);
  const [re, im] = [new Float64Array(grid.length), new Float64Array(grid.length)];
  for (let i = 0; i < grid.length; i++) writeTransfer("responseOf", filter, grid[i]!, re, im, i);
  return finiteResponse("responseOf", grid, re, im);
}

/** Writes H(j2πf) into index i of two arrays; zeros and poles in turn, so that no partial product grows needlessly. */
export function writeTransfer(
  caller: string,
  filter: TransferFunction,
  frequency: number,
  re: Float64Array,
  im: Float64Array,
  i: number,
): void {
  const { zeros, poles, gain } = filter;
  const omega = 2 * Math.PI * frequency;
  re[i] = gain;
  im[i] = 0;
  for (let k = 0; k < Math.max(zeros.length, poles.length); k++) {
    const zero = zeros[k];
    if (zero !== undefined) {
      const real: number = re[i];
      re[i] = -real * zero.re - im[i] * (omega - zero.im);
      im[i] = real * (omega - zero.im) - im[i] * zero.re;
    }
    const pole = poles[k];
    if (pole !== undefined) {
      const [c, d] = [-pole.re, omega - pole.im];
      if (c === 0 && d === 0) {
        throw new DividingNetworkError(
          "pole-on-axis",
          `${caller}: the frequency must not fall on a pole, got ${frequency} Hz where the response is infinite`,
          "Ask beside it",
        );
      }
      writeQuotient(re[i], im[i], c, d, re, im, i);
    }
  }
}

/** Hz: above it a prototype, which lives at 1 rad/s, has nothing left to say. */
const HIGHEST_OF_PROTOTYPES = 10;

/** Refuses a prototype that is asked as if it were a filter: nothing is silently taken for what it isn't. */
export function refusePrototype(caller: string, filter: TransferFunction, highest: number): void {
  if (!("family" in filter) || !(highest > HIGHEST_OF_PROTOTYPES)) return;
  throw new DividingNetworkError(
    "unscaled-prototype",
    `${caller}: a prototype, whose corner lies at 1 rad/s (0.159 Hz), must be asked up to ${HIGHEST_OF_PROTOTYPES} Hz, got ${highest} Hz`,
    'Bring it to its frequency first: lowPass(prototype, "3 kHz"), highPass or bandPass',
  );
}

/** Whether a value is meant as a transfer function rather than a sampled response. */
export function isTransferFunction(value: unknown): value is TransferFunction {
  return typeof value === "object" && value !== null && "poles" in value;
}

/** Checks that every zero and pole and the gain is finite. */
export function checkTransferFunction(caller: string, argument: string, value: unknown): TransferFunction {
  const given = (typeof value === "object" && value !== null ? value : {}) as Partial<Record<keyof TransferFunction, unknown>>;
  const { zeros, poles, gain } = given;
  const bad = !allFinite(zeros)
    ? ["zeros", zeros]
    : !allFinite(poles)
      ? ["poles", poles]
      : typeof gain !== "number" || !Number.isFinite(gain)
        ? ["gain", gain]
        : undefined;
  if (bad === undefined) return value as TransferFunction;
  throw new DividingNetworkError(
    "invalid-transfer-function",
    `${caller}: "${argument}" must be { zeros, poles, gain } with finite numbers, zeros and poles as arrays of { re, im } in rad/s, got ${show(bad[1])} for ${String(bad[0])}`,
  );
}

function allFinite(list: unknown): boolean {
  return (
    Array.isArray(list)
    && list.every((each: unknown) => {
      const part = (typeof each === "object" && each !== null ? each : {}) as { re?: unknown; im?: unknown };
      return Number.isFinite(part.re) && Number.isFinite(part.im);
    })
  );
}
