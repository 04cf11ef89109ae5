import { DividingNetworkError } from "../../errors";
import { checkNumber, checkOneOf, checkOptions, show } from "../../errors/internal";
import { polynomialRoots } from "../../numeric";
import { startWorking, type Frequency, type Resistance, type Working } from "../../quantity";
import type { ComplexParts, TransferFunction } from "../../response";
import { checkFrequency, checkLoad, makeFilter } from "../filters/check-filter";
import { makeScaled } from "../filters/filter";
import { ladder } from "../ladders/ladder";
import type { Ladder } from "../ladders/ladder-data";
import { middleLadder } from "./multi-way";
import { polarityStep } from "./polarity";
import type { Polarity } from "./crossover-data";
import { sumDeviation, type SumDeviation } from "./sum-deviation";
import type { ThreeWayTarget } from "./three-way-equations";
import { noThreeWay, solveThreeWay } from "./three-way-solver";

/** The options of `derivedThreeWay`. */
export interface DerivedThreeWayOptions {
  /** What the three ways shall do together: a sum of level 0 dB, or a sum of squares of 0 dB, at every frequency. */
  readonly target: ThreeWayTarget;
  /** Order of each slope, 1 to 4. */
  readonly order: number;
  /** Hz, two: where the asymptotes of the lowest way's slope meet, and those of the highest way's, at least twice as high. */
  readonly frequencies: readonly [low: Frequency, high: Frequency];
  /** Ω: of all three drivers. */
  readonly load: Resistance;
}

/** One way of a derived three-way crossover. */
export interface DerivedWay {
  /** V at the driver per V at the input, with `gainDb` in it. */
  readonly transfer: TransferFunction;
  /** How this way's driver is connected, against the lowest way's. */
  readonly polarity: Polarity;
  /** The parts of this way, into the load. */
  readonly ladder: Ladder;
  /** dB: what the driver needs against the ladder's own level, negative for an L-pad. */
  readonly gainDb: number;
}

/** A three-way crossover whose functions are solved for, not taken from a family. */
export interface DerivedThreeWay {
  /** Lowest, middle and highest way. */
  readonly ways: readonly [DerivedWay, DerivedWay, DerivedWay];
  /** The lowest way at ω = 1 rad/s, highest power first; the highest way is its mirror image. */
  readonly denominator: readonly number[];
  /** dB: extremes of the level of the sum. */
  readonly sum: SumDeviation;
  /** dB: extremes of the sum of squares. */
  readonly power: SumDeviation;
  /** How each number came about. */
  readonly working: Working;
}

/**
 * A three-way crossover of ladders (H, F) in parallel that sums exactly, all-pass or in power, without further
 * networks. With the low-pass $\omega_1^n/D_1(s)$, its mirror image as high-pass and $K s^n/(D_1 D_2)$ between them,
 * the condition $|\pm N_1 \pm N_2 \pm N_3|^2 = |D_1 D_2|^2$ (all-pass) or $|N_1|^2 + |N_2|^2 + |N_3|^2 = |D_1 D_2|^2$
 * (constant power) at every frequency gives n equations for the n − 1 free coefficients of $D_1$ and for K, solved by
 * Newton's method, starting from Linkwitz–Riley or Butterworth functions far apart.
 *
 * @param options `target`, `order` (1 to 4), `frequencies` (Hz, two, their ratio at least 2), `load` (Ω)
 * @returns the ways with their ladders (H, F), sum and power in dB, working
 * @throws DividingNetworkError `not-realizable` when no such functions exist at this ratio; `invalid-argument`,
 *   `invalid-quantity`, `unknown-option`
 * @example
 * ```ts
 * import { derivedThreeWay } from "dividing-network/alignments";
 *
 * derivedThreeWay({ target: "all-pass", order: 1, frequencies: [400, 3200], load: 8 }).ways[1].gainDb; // -2.182889
 * ```
 */
export function derivedThreeWay(options: DerivedThreeWayOptions): DerivedThreeWay {
  const caller = "derivedThreeWay";
  const given = checkOptions(caller, options, ["target", "order", "frequencies", "load"]);
  const target = checkOneOf(caller, "target", given.target, ["all-pass", "constant-power"]);
  const order = checkNumber(caller, "order", given.order, { integer: true, min: 1, max: 4 });
  if (!Array.isArray(given.frequencies) || given.frequencies.length !== 2)
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "frequencies" must be the 2 corners in Hz, got ${show(given.frequencies)}`,
      "Write [400, 3200]",
    );
  const [low, high] = [0, 1].map((k) => checkFrequency(caller, `frequencies[${k}]`, given.frequencies[k]!)) as [number, number];
  checkNumber(caller, "frequencies[1] relative to frequencies[0]", high / low, { min: 2, max: 1e4 });
  const load = checkLoad(caller, "load", given.load);
  const { coefficients, gain, polarity: solved } = solveThreeWay(target, order, Math.sqrt(high / low));
  const denominator = [1, ...coefficients, 1];
  const roots = polynomialRoots(denominator);
  if (roots.some(({ re }) => !(re < 0))) throw noThreeWay(order, high / low);
  const w = 2 * Math.PI * low;
  const lowPoles = roots.map(({ re, im }) => ({ re: re * w, im: im * w }));
  const mirrored = (part: number, { re, im }: ComplexParts): number => (part * 2 * Math.PI * high) / (re * re + im * im);
  const highPoles = roots.map((root) => ({ re: mirrored(root.re, root), im: mirrored(-root.im, root) }));
  const zeros = Array.from({ length: order }, () => ({ re: 0, im: 0 }));
  const middle = makeScaled(zeros, [...lowPoles, ...highPoles], gain * (2 * Math.PI * Math.sqrt(low * high)) ** order);
  const prototype = makeFilter([], roots, 1);
  const ladders = [
    ladder(prototype, { pass: "low", frequency: low, load }),
    middleLadder(caller, middle, Math.sqrt(low * high), load),
    ladder(prototype, { pass: "high", frequency: high, load }),
  ] as const;
  const functions = [ladders[0].transfer, middle, ladders[2].transfer] as const;
  const summed = (own: Polarity) => functions.map((transfer, k) => ({ transfer, polarity: k === 1 ? own : ("same" as const) }));
  // Power has no polarity: the one whose sum strays less is taken. An all-pass sum was solved for with its own.
  const strays = ({ lowestDb, highestDb }: SumDeviation): number => Math.max(-lowestDb, highestDb);
  const candidates: readonly Polarity[] = target === "all-pass" ? [solved] : ["same", "reversed"];
  const { polarity, sum } = candidates
    .map((own) => ({ polarity: own, sum: sumDeviation(summed(own), [low, high]) }))
    .reduce((best, other) => (strays(other.sum) < strays(best.sum) ? other : best));
  const way = (k: 0 | 1 | 2, own: Polarity, gainDb: number): DerivedWay =>
    Object.freeze({ transfer: functions[k], polarity: own, ladder: ladders[k], gainDb });
  const ways = [way(0, "same", 0), way(1, polarity, 20 * Math.log10(middle.gain / ladders[1].transfer.gain)), way(2, "same", 0)] as const;
  return Object.freeze({
    ways,
    denominator: Object.freeze(denominator),
    sum,
    power: sumDeviation(summed(polarity), [low, high], "powerDb"),
    working: workingOf(ladders, functions, [low, high], target, polarity),
  });
}

/** The ladders way by way, then both pairs of neighbours with the reason of the middle way's polarity. */
function workingOf(
  ladders: readonly { readonly working: Working }[],
  functions: readonly [TransferFunction, TransferFunction, TransferFunction],
  corners: readonly [number, number],
  target: DerivedThreeWayOptions["target"],
  polarity: Polarity,
): Working {
  const steps = startWorking();
  ladders.forEach(({ working }, k) => steps.take(`way ${k + 1}: `, working));
  const connected = polarity === "reversed" ? "the middle way is reversed" : "all ways have the same polarity";
  const reason =
    target === "all-pass"
      ? "the functions were solved for so that they sum to 0 dB at every frequency with this polarity"
      : "power has none, and with this one the sum strays less from 0 dB";
  corners.forEach((corner, k) =>
    polarityStep(steps, `ways ${k + 1} and ${k + 2}: φ`, functions[k]!, functions[k + 1]!, corner, `${connected}: ${reason}`),
  );
  return steps.done();
}
