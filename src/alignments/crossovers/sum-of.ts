import { DividingNetworkError } from "../../errors";
import { checkList, checkObject, checkNumber, checkOneOf, checkOptions, show } from "../../errors/internal";
import { log10Modulus } from "../../numeric/internal";
import { responseOf, type FrequencyResponse, type TransferFunction } from "../../response";
import { checkedGrid, freezeResponse } from "../../response/internal";
import { checkFilter } from "../filters/check-filter";

/** One way of a crossover, as it enters a sum. */
export interface SummedWay {
  /** V at the driver per V at the input, or the same with the driver's own response in it. */
  readonly transfer: TransferFunction;
  /** Whether the driver is connected the other way round; default `"same"`. */
  readonly polarity?: "same" | "reversed" | undefined;
  /** dB; default 0 dB. */
  readonly gainDb?: number | undefined;
}

/** What ways add up to for drivers that are flat and coincident. */
export interface Sum {
  /** The complex sum, dimensionless. */
  readonly response: FrequencyResponse;
  /** dB: the level of the sum, on axis. */
  readonly levelDb: Float64Array;
  /** dB: the sum of the squares, which the room hears where the drivers' sound adds without regard to phase. */
  readonly powerDb: Float64Array;
  /** s: group delay of the sum, in closed form. */
  readonly groupDelay: Float64Array;
}

/**
 * What the ways of a crossover sum to (dimensionless, dB, s) for flat, coincident drivers: level, power, and the group
 * delay $-\mathrm{Re}\,\frac{S'(s)}{S(s)}$ of the sum $S = \sum \pm g_k H_k$.
 *
 * @param ways `transfer`, `polarity` and `gainDb` (dB) of each; at least one
 * @param frequencies Hz, length n, strictly ascending
 * @returns response, level (dB), power (dB) and group delay (s) of the sum, each of n points
 * @throws DividingNetworkError `invalid-argument`, `unknown-option`, `invalid-transfer-function`
 * @example
 * ```ts
 * import { highPass, linkwitzRiley, lowPass, sumOf } from "dividing-network/alignments";
 *
 * const ways = [{ transfer: lowPass(linkwitzRiley(4), 1000) }, { transfer: highPass(linkwitzRiley(4), 1000) }];
 * sumOf(ways, [1000]).powerDb; // [-3.0103]
 * ```
 */
export function sumOf(ways: readonly SummedWay[], frequencies: ArrayLike<number>): Sum {
  if (!Array.isArray(ways) || ways.length === 0) {
    throw new DividingNetworkError("invalid-argument", `sumOf: "ways" must be an array of at least one way, got ${show(ways)}`);
  }
  const grid = checkedGrid("sumOf", frequencies);
  const n = grid.length;
  const [re, im, slopeRe, slopeIm, power] = Array.from({ length: 5 }, () => new Float64Array(n)) as [
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
  ];
  for (const way of checkList("sumOf", "ways", ways as readonly SummedWay[], "{ transfer, polarity, gainDb }")) {
    checkObject("sumOf", "ways[]", way, "{ transfer, polarity, gainDb }");
    checkOptions("sumOf", way, ["transfer", "polarity", "gainDb"]);
    const polarity = checkOneOf("sumOf", "polarity", way.polarity === undefined ? "same" : way.polarity, ["same", "reversed"]);
    const gain =
      (polarity === "same" ? 1 : -1)
      * 10 ** (checkNumber("sumOf", "gainDb", way.gainDb === undefined ? 0 : way.gainDb, { unit: "dB", max: 200 }) / 20);
    checkFilter("sumOf", "transfer", way.transfer);
    const own = responseOf(way.transfer, grid);
    for (let i = 0; i < n; i++) {
      const [x, y] = [gain * own.re[i]!, gain * own.im[i]!];
      re[i]! += x;
      im[i]! += y;
      power[i]! += x * x + y * y;
      // H′ = H (Σ 1/(s − z) − Σ 1/(s − p)); a zero at s itself is left to its neighbourhood.
      const d = logarithmicSlope(way.transfer, 2 * Math.PI * grid[i]!);
      slopeRe[i]! += x * d.re - y * d.im;
      slopeIm[i]! += x * d.im + y * d.re;
    }
  }
  power.forEach((value, i) => checkNumber("sumOf", `power of the ways at ${grid[i]} Hz`, value));
  return Object.freeze({
    response: freezeResponse(grid, re, im),
    levelDb: re.map((x, i) => 20 * log10Modulus(x, im[i]!)),
    powerDb: power.map((value) => 10 * Math.log10(value)),
    groupDelay: re.map((x, i) => {
      const size = x * x + im[i]! * im[i]!;
      return size === 0 ? 0 : -(slopeRe[i]! * x + slopeIm[i]! * im[i]!) / size;
    }),
  });
}

function logarithmicSlope({ zeros, poles }: TransferFunction, w: number): { readonly re: number; readonly im: number } {
  let [re, im] = [0, 0];
  for (const [list, sign] of [
    [zeros, 1],
    [poles, -1],
  ] as const) {
    for (const root of list) {
      const [x, y] = [-root.re, w - root.im];
      const size = x * x + y * y;
      if (size === 0) continue;
      re += (sign * x) / size;
      im -= (sign * y) / size;
    }
  }
  return { re, im };
}
