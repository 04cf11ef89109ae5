import { DividingNetworkError } from "../errors";
import { checkOneOf, checkOptions } from "../errors/internal";
import { neighbourProducts } from "../numeric/internal";
import type { Frequency, Resistance } from "../quantity";
import { inSi } from "../quantity/internal";
import type { FrequencyResponse } from "../response";
import { checkResponse } from "../response/internal";
import { chooseCoil, type ChosenCoil } from "./choose-coil";
import type { CoilModel } from "./coil-formula";
import type { DriverOptions } from "./driver-impedance";
import { peakIndex, threePointRule, type ThreePointParameters } from "./three-point-rule";

/** How driver parameters are found. */
export interface DriverParametersOptions {
  /** Ω: resistance measured with direct current; left out, it is fitted. */
  readonly re?: Resistance | undefined;
  /**
   * `"power"` (default): K(jω)ⁿ; `"parallel"`: jωLe + Re2 ∥ jωLe2; `"inductance"`: jωLe; `"none"`. A simpler one is taken where the curve
   * does not bear out the one asked for: see `coil` and `coilProblem` of the result.
   */
  readonly coil?: CoilModel | undefined;
  /** Hz: band that is used; default the whole. */
  readonly from?: Frequency | undefined;
  /** Hz: the upper end of the same band. */
  readonly to?: Frequency | undefined;
}

/** Parameters by a fit of the whole curve. */
export interface FittedParameters {
  /** Ready for `driverImpedance`: re, fs, qms, qes and the coil's terms. */
  readonly model: Readonly<DriverOptions & Record<"re" | "fs" | "qms" | "qes", number>>;
  /** Dimensionless: total Q at fs. */
  readonly qts: number;
  /** Ω: motional resistance. */
  readonly res: number;
  /** The formula of the coil in `model`. */
  readonly coil: CoilModel;
  /** Why the coil isn't wholly that asked for; undefined when it is. */
  readonly coilProblem: string | undefined;
  /**
   * Relative standard error of each number in `model`, of `qts` and of `res`, dimensionless; 0 for a stated Re, else at least 1e-9, the
   * fit's own accuracy. It holds for scatter that is equal in relative size and independent from point to point, and for a driver that
   * the formula describes. A name that stands in `undetermined` is absent.
   */
  readonly relativeErrors: Readonly<Record<string, number>>;
  /** Names of the numbers that the curve doesn't tell: their relative standard error would be above 1. */
  readonly undetermined: readonly string[];
  /** Root mean square of |Z_model − Z| / |Z|, dimensionless. */
  readonly misfit: number;
  /**
   * Correlation of neighbouring deviations, −1 … 1, dimensionless: within some 2/√(2 · points) of 0 for independent scatter. Near 1 it is
   * the formula that doesn't fit, or the curve is smoothed, and the errors are too small.
   */
  readonly correlation: number;
  /** False when the fit ended before its least sum of squares: neither numbers nor errors are to be relied on. */
  readonly converged: boolean;
}

/** The same parameters found in two ways. */
export interface DriverParameters {
  /** The parameters of the curve that fits best, with their errors. */
  readonly fit: FittedParameters;
  /** Undefined where the rule does not apply: the curve does not fall to √(Re Zmax) on both sides of its peak. */
  readonly threePoint: ThreePointParameters | undefined;
  /** Why there is no `threePoint`. */
  readonly threePointProblem: string | undefined;
}

/**
 * Driver parameters in SI from an impedance curve, by a least-squares fit of the whole complex curve and by the classic three-point rule,
 * side by side.
 *
 * $$Z = R_e + \frac{R_{es}}{1 + jQ_{ms}(f/f_s - f_s/f)} + Z_{coil}, \qquad R_{es} = R_e Q_{ms}/Q_{es}$$
 *
 * The fit weighs relative deviations equally; its errors come from the misfit that is left and from the covariance of all parameters. A
 * coil that the curve does not bear out gives way to a simpler one, and a number that it does not tell has no error but stands in
 * `undetermined`. The rule uses |Z| at the peak and at the two points where it is √(Re Zmax): $Q_{ms} = f_s\sqrt{r_0}/(f_2 - f_1)$,
 * $Q_{es} = Q_{ms}/(r_0 - 1)$ with r₀ = Zmax/Re. Where the two disagree, look at `symmetry`, `misfit` and `correlation`.
 *
 * @param impedance the driver's impedance in Ω, at least 12 points across the resonance
 * @param options `re` in Ω, `coil`, the band in Hz
 * @returns re in Ω, fs in Hz, Q dimensionless, coil terms in SI (k in Ω·sⁿ)
 * @throws DividingNetworkError `undetermined` when there is no peak in the band, or none above the misfit, or too few points;
 *   `invalid-response`, `invalid-argument`, `invalid-quantity`, `unknown-option`
 * Source: after Thiele (1971) and Small (1972); coil K(jω)ⁿ after Leach (2002), cited from memory.
 * @example
 * ```ts
 * import { logGrid } from "dividing-network/numeric";
 * import { driverParameters } from "dividing-network/parts";
 * import { frequencyResponse } from "dividing-network/response";
 *
 * const f = logGrid(10, 1000, 200);
 * const x = f.map((hz) => 4 * (hz / 50 - 50 / hz));
 * const z = frequencyResponse(f, x.map((v) => 6 + 48 / (1 + v * v)), x.map((v) => (-48 * v) / (1 + v * v)));
 * driverParameters(z, { coil: "none" }).fit.model.qes; // 0.5
 * ```
 */
export function driverParameters(impedance: FrequencyResponse, options?: DriverParametersOptions): DriverParameters {
  const caller = "driverParameters";
  const whole = checkResponse(caller, "impedance", impedance);
  const given = checkOptions(caller, options, ["re", "coil", "from", "to"]);
  const coil = checkOneOf(caller, "coil", given.coil ?? "power", ["none", "inductance", "power", "parallel"]);
  const stated = given.re === undefined ? undefined : inSi(caller, "re", given.re, "Ω", { above: 1e-50, below: 1e50 });
  const low = given.from === undefined ? 0 : inSi(caller, "from", given.from, "Hz");
  const high = given.to === undefined ? Infinity : inSi(caller, "to", given.to, "Hz", { above: low });
  const within = (hz: number): boolean => hz > 0 && hz >= low && hz <= high;
  const kept = Array.from(whole.frequencies.keys()).filter((k) => within(whole.frequencies[k]!));
  if (kept.length < 12)
    throw new DividingNetworkError(
      "undetermined",
      `${caller}: "impedance" must have at least 12 points above 0 Hz in the band, got ${kept.length}`,
    );
  const f = Float64Array.from(kept, (k) => whole.frequencies[k]!);
  const zRe = Float64Array.from(kept, (k) => whole.re[k]!);
  const zIm = Float64Array.from(kept, (k) => whole.im[k]!);
  const size = zRe.map((value, k) => Math.hypot(value, zIm[k]!));
  // Products of a few of these stay far from the ends of double precision.
  if (![...size, ...f].every((value) => value > 1e-50 && value < 1e50)) {
    throw new DividingNetworkError(
      "invalid-response",
      `${caller}: "impedance" must be between 1e-50 and 1e50 Ω everywhere, at frequencies between 1e-50 and 1e50 Hz`,
    );
  }
  const re = stated ?? zRe.reduce((least, value) => Math.min(least, value), Infinity);
  if (!(re > 0))
    throw new DividingNetworkError(
      "undetermined",
      `${caller}: "re" must be given: the curve has no positive real part to take it from, in Ω`,
    );
  const top = peakIndex(size);
  if (top < 0)
    throw new DividingNetworkError(
      "undetermined",
      `${caller}: "impedance" must show its resonance peak, got none inside the band`,
      "Measure from well below the resonance to well above it",
    );
  const found = threePointRule(f, size, re, top);
  const guess = { re: stated ?? size.reduce((least, value) => Math.min(least, value)), fs: f[top]!, top: size[top]! };
  const fit = fitted(chooseCoil({ f, re: zRe, im: zIm, stated, guess }, coil), stated !== undefined);
  return Object.freeze({
    fit,
    ...(typeof found === "string"
      ? { threePoint: undefined, threePointProblem: found }
      : { threePoint: found, threePointProblem: undefined }),
  });
}

function fitted({ fit, problem }: ChosenCoil, stated: boolean): FittedParameters {
  const { values, errors, deviations, converged } = fit;
  const { qts, res, ...model } = values as Record<"re" | "fs" | "qms" | "qes" | "qts" | "res", number>;
  const known = Object.entries(errors).filter((entry): entry is [string, number] => entry[1] !== undefined && entry[1] <= 1);
  const relativeErrors = Object.fromEntries(known.map(([name, error]) => [name, stated && name === "re" ? 0 : Math.max(1e-9, error)]));
  const squares = deviations.reduce((sum, value) => sum + value * value, 0);
  let misfit = 0;
  for (let i = 0; i < deviations.length; i += 2) {
    const [size, turn] = [deviations[i]!, deviations[i + 1]!];
    misfit += Math.expm1(size) ** 2 + 4 * Math.exp(size) * Math.sin(turn / 2) ** 2;
  }
  return Object.freeze({
    model: Object.freeze(model),
    qts,
    res,
    coil: fit.formula.coil,
    coilProblem: problem,
    relativeErrors: Object.freeze(relativeErrors),
    undetermined: Object.freeze(Object.keys(errors).filter((name) => !(name in relativeErrors))),
    misfit: Math.sqrt((2 * misfit) / deviations.length),
    correlation: squares > 0 ? neighbourProducts(deviations) / squares : 0,
    converged,
  });
}
