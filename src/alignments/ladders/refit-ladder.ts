import { DividingNetworkError } from "../../errors";
import { fitLeastSquares, logGrid } from "../../numeric";
import { join, network } from "../../network";
import { resistor } from "../../parts";
import { responseOf } from "../../response";
import { chainBranch, type LadderBranch } from "./chain-branch";
import { writeChainTransfer, type ChainReactance } from "./chain-transfer";
import { checkLosses, type LadderLosses } from "./ladder-losses";
import { checkLadder } from "./make-ladder";
import type { Ladder, LadderElement, LoadedLadder } from "./ladder-data";

/** How far a response is from a function, apart from the level. */
export interface FitError {
  /** dB: the largest deviation where the function is within 20 dB of its passband. */
  readonly worstDb: number;
  /** Hz, where that is. */
  readonly worstFrequency: number;
}

/** A ladder whose values allow for its losses. */
export interface LossyLadder {
  /** From source to load, with the loss of each: Ω in series. */
  readonly elements: readonly (LadderElement & {
    /** Ω, in series; 0 for a capacitor described by tan δ. */
    readonly loss: number;
  })[];
  /** H and F by designator. */
  readonly parts: Readonly<Record<string, number>>;
  /** dB: how far the passband lies below that of the lossless ladder. */
  readonly levelLossDb: number;
  /** What is left with the new values. */
  readonly error: FitError;
  /** With the lossless ladder's values and the same losses. */
  readonly errorBefore: FitError;
  /** The lossy parts between two nodes, without the load. */
  readonly branch: LadderBranch;
  /** From `in` into a resistor named `load` at the node `out`. */
  readonly network: LoadedLadder;
}

/**
 * The values (H, F) of a ladder whose coils and capacitors have losses, at which its transfer function is as near as
 * they allow to that of the lossless ladder, the level left free: least squares of $|H/c - H_0|$ over the values and
 * the level c, on 120 frequencies around the poles. Resistance in series coils alone can be made up for exactly, but
 * for the level; resistance in shunt coils and in capacitors cannot, since it limits the attenuation.
 *
 * @param ladder from `ladder` or a crossover
 * @param losses `dcr` (Ω) or `coilQ` (dimensionless) with `at` (Hz); `esr` (Ω) or `dissipationFactor` (dimensionless)
 * @returns new values (H, F), level lost (dB), errors before and after (dB), fragment and network
 * @throws DividingNetworkError `not-realizable` when the losses are too great; `invalid-argument`, `invalid-quantity`,
 *   `unknown-option`
 * @example
 * ```ts
 * import { butterworth, ladder, refitLadder } from "dividing-network/alignments";
 *
 * const lossless = ladder(butterworth(2), { pass: "low", frequency: 500, load: 8 });
 * const lossy = refitLadder(lossless, { dcr: { L1: "0.5 Ω" } });
 * lossy.levelLossDb; // 0.526579
 * ```
 */
export function refitLadder(ladder: Ladder, losses: LadderLosses): LossyLadder {
  const caller = "refitLadder";
  checkLadder(caller, "ladder", ladder);
  const lossy = checkLosses(caller, ladder, losses);
  const { load, sourceResistance, transfer } = ladder;
  const sizes = transfer.poles.map(({ re, im }) => Math.hypot(re, im) / (2 * Math.PI));
  const grid = logGrid(Math.min(...sizes) / 8, Math.max(...sizes) * 8, 120);
  const wanted = responseOf(transfer, grid);
  const passband = load / (load + sourceResistance);
  const chain = (parameters: ArrayLike<number>): ChainReactance[] =>
    ladder.elements.map((element, k) => lossy({ ...element, value: element.value * Math.exp(parameters[k]!) }));
  const n = ladder.elements.length;
  const evaluate = (parameters: ArrayLike<number>, out: Float64Array): void => {
    const parts = chain(parameters);
    grid.forEach((frequency, i) => writeChainTransfer(parts, load, sourceResistance, frequency, out, 2 * i));
  };
  const residuals = (parameters: Float64Array, out: Float64Array): void => {
    evaluate(parameters, out);
    const scale = Math.exp(-parameters[n]!);
    for (let i = 0; i < grid.length; i++) {
      out[2 * i] = (out[2 * i]! * scale - wanted.re[i]!) / passband;
      out[2 * i + 1] = (out[2 * i + 1]! * scale - wanted.im[i]!) / passband;
    }
  };
  const start = new Float64Array(n + 1);
  const { parameters } = fitLeastSquares(residuals, start, { count: 2 * grid.length, maxIterations: 400 });
  const refitted = chain(parameters);
  if (!refitted.every(({ value }, k) => value > 1e-4 * ladder.elements[k]!.value && value < 1e4 * ladder.elements[k]!.value)) {
    throw new DividingNetworkError(
      "not-realizable",
      `${caller}: the losses are too great for this function: a value would have to grow or shrink without limit`,
      "Use coils of higher Q, a lower order, or a family with lower Q",
    );
  }
  const errorOf = (values: ArrayLike<number>): FitError => {
    const out = new Float64Array(2 * grid.length);
    evaluate(values, out);
    return deviation(out, grid, wanted, passband);
  };
  const parts = refitted.map((part, k) => ({ ...part, designator: ladder.elements[k]!.designator }));
  const branch = chainBranch(
    `${caller}.branch`,
    parts.map(({ tan, ...part }) => (tan > 0 ? { ...part, dissipationFactor: tan } : part)),
  );
  return Object.freeze({
    elements: Object.freeze(
      parts.map(({ designator, placement, kind, value, loss }) => Object.freeze({ designator, placement, kind, value, loss })),
    ),
    parts: Object.freeze(Object.fromEntries(parts.map(({ designator, value }) => [designator, value]))),
    levelLossDb: (-20 * parameters[n]!) / Math.LN10,
    error: errorOf(parameters),
    errorBefore: errorOf(start),
    branch,
    network: network(join(branch({ from: "in", to: "out" }), { load: [resistor(load), "out", "gnd"] })),
  });
}

/**
 * Largest deviation in dB where the function is within 20 dB of its passband, when the level is set where the
 * deviations on both sides are equal.
 */
function deviation(
  out: Float64Array,
  grid: Float64Array,
  wanted: { readonly re: Float64Array; readonly im: Float64Array },
  passband: number,
): FitError {
  const off = Array.from(grid, (frequency, i) => ({
    frequency,
    size: Math.hypot(wanted.re[i]!, wanted.im[i]!),
    own: Math.hypot(out[2 * i]!, out[2 * i + 1]!),
  }))
    .filter(({ size }) => size > passband / 10)
    .map(({ frequency, size, own }) => ({ frequency, db: 20 * Math.log10(own / size) }));
  const [low, high] = [Math.min(...off.map(({ db }) => db)), Math.max(...off.map(({ db }) => db))];
  const at = off.find(({ db }) => db === low)!;
  return Object.freeze({ worstDb: (high - low) / 2, worstFrequency: at.frequency });
}
