import { DividingNetworkError, checkOneOf, checkOptions } from "../errors";
import { fitLeastSquares } from "../numeric";
import { inSi, type Frequency, type Resistance } from "../quantity";
import { checkResponse, type FrequencyResponse } from "../response";
import type { DriverOptions } from "./driver-impedance";
import { peakIndex, threePointRule, type ThreePointParameters } from "./three-point-rule";

/** Formula of the voice coil's impedance beside Re. */
export type CoilModel = "none" | "inductance" | "power" | "parallel";

/** How driver parameters are found. */
export interface DriverParametersOptions {
  /** Ω: resistance measured with direct current; left out, it is fitted. */
  readonly re?: Resistance;
  /** `"power"` (default): K(jω)ⁿ; `"parallel"`: jωLe + Re2 ∥ jωLe2; `"inductance"`: jωLe; `"none"`. */
  readonly coil?: CoilModel;
  /** Hz: band that is used; default the whole. */
  readonly from?: Frequency;
  readonly to?: Frequency;
}

/** Parameters by a fit of the whole curve. */
export interface FittedParameters {
  /** Ready for `driverImpedance`: re, fs, qms, qes and the coil's terms. */
  readonly model: Readonly<DriverOptions & Record<"re" | "fs" | "qms" | "qes", number>>;
  /** Dimensionless: total Q at fs. */
  readonly qts: number;
  /** Ω: motional resistance. */
  readonly res: number;
  /** Relative standard error of each number in `model`; 0 for a stated Re. */
  readonly relativeErrors: Readonly<Record<string, number>>;
  /** Root mean square of |Z_model − Z| / |Z|, dimensionless. */
  readonly misfit: number;
  readonly converged: boolean;
}

/** The same parameters found in two ways. */
export interface DriverParameters {
  readonly fit: FittedParameters;
  /** Undefined where the rule does not apply: the curve does not fall to √(Re Zmax) on both sides of its peak. */
  readonly threePoint: ThreePointParameters | undefined;
  /** Why there is no `threePoint`. */
  readonly threePointProblem: string | undefined;
}

const terms: Readonly<Record<CoilModel, readonly string[]>> = { none: [], inductance: ["le"], power: ["k", "n"], parallel: ["le", "re2", "le2"] };

/**
 * Driver parameters in SI from an impedance curve, by a least-squares fit of the whole complex curve and by the classic three-point rule, side by
 * side.
 *
 * $$Z = R_e + \frac{R_{es}}{1 + jQ_{ms}(f/f_s - f_s/f)} + Z_{coil}, \qquad R_{es} = R_e Q_{ms}/Q_{es}$$
 *
 * The fit weighs relative deviations equally; its errors come from the misfit that is left. The rule uses |Z| at the peak and at the two
 * points where it is √(Re Zmax): $Q_{ms} = f_s\sqrt{r_0}/(f_2 - f_1)$, $Q_{es} = Q_{ms}/(r_0 - 1)$ with r₀ = Zmax/Re. Where the two
 * disagree, look at `symmetry` and `misfit`.
 *
 * @param impedance the driver's impedance in Ω, at least 12 points across the resonance
 * @param options `re` in Ω, `coil`, the band in Hz
 * @returns re in Ω, fs in Hz, Q dimensionless, coil terms in SI (k in Ω·sⁿ)
 * @throws DividingNetworkError `undetermined` when there is no peak in the band or too few points; `invalid-response`, `invalid-argument`
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
  const stated = given.re === undefined ? undefined : inSi(caller, "re", given.re, "Ω", { above: 0 });
  const low = given.from === undefined ? 0 : inSi(caller, "from", given.from, "Hz");
  const high = given.to === undefined ? Infinity : inSi(caller, "to", given.to, "Hz", { above: low });
  const kept = Array.from(whole.frequencies.keys()).filter((k) => whole.frequencies[k]! > 0 && whole.frequencies[k]! >= low && whole.frequencies[k]! <= high);
  if (kept.length < 12) throw new DividingNetworkError("undetermined", `${caller}: "impedance" must have at least 12 points above 0 Hz in the band, got ${kept.length}`);
  const f = Float64Array.from(kept, (k) => whole.frequencies[k]!);
  const zRe = Float64Array.from(kept, (k) => whole.re[k]!);
  const zIm = Float64Array.from(kept, (k) => whole.im[k]!);
  const size = zRe.map((value, k) => Math.hypot(value, zIm[k]!));
  if (size.includes(0)) throw new DividingNetworkError("invalid-response", `${caller}: "impedance" must be above 0 Ω everywhere`);
  const re = stated ?? leastReal(zRe);
  if (!(re > 0)) throw new DividingNetworkError("undetermined", `${caller}: "re" must be given: the curve has no positive real part to take it from, in Ω`);
  const top = peakIndex(size);
  if (top < 0) throw new DividingNetworkError("undetermined", `${caller}: "impedance" must show its resonance peak, got none inside the band`, "Measure from well below the resonance to well above it");
  const found = threePointRule(f, size, re, top);
  const threePoint = typeof found === "string" ? undefined : found;
  const guess = threePoint ?? { re, fs: f[top]!, qms: 3 };
  return Object.freeze({
    fit: fit({ f, zRe, zIm, size }, coil, stated, { re: guess.re, fs: guess.fs, qms: guess.qms, top: size[top]! }), threePoint, threePointProblem: typeof found === "string" ? found : undefined,
  });
}

function leastReal(zRe: Float64Array): number {
  return zRe.reduce((least, value) => Math.min(least, value), Infinity);
}

interface Curve {
  readonly f: Float64Array;
  readonly zRe: Float64Array;
  readonly zIm: Float64Array;
  readonly size: Float64Array;
}

function fit(curve: Curve, coil: CoilModel, stated: number | undefined, guess: { readonly re: number; readonly fs: number; readonly qms: number; readonly top: number }): FittedParameters {
  const { f, zRe, zIm, size } = curve;
  const count = 2 * f.length;
  const names = [...(stated === undefined ? ["re"] : []), "res", "qms", "fs", ...terms[coil]];
  // Everything above zero is fitted as its logarithm; the exponent n, between 0 and 1, as ln(n / (1 − n)).
  const back = (name: string, value: number): number => (name === "n" ? 1 / (1 + Math.exp(-value)) : Math.exp(Math.max(-700, Math.min(700, value))));
  const read = (values: Float64Array): Record<string, number> => Object.fromEntries(names.map((name, i) => [name, back(name, values[i]!)]));
  const residuals = (values: Float64Array, out: Float64Array): void => {
    const p = read(values);
    const { re = stated!, res, qms, fs } = p as Record<"re" | "res" | "qms" | "fs", number>;
    for (let k = 0; k < f.length; k++) {
      const x = qms * (f[k]! / fs - fs / f[k]!);
      const [cRe, cIm] = coilImpedance(coil, p, 2 * Math.PI * f[k]!);
      out[2 * k] = (re + res / (1 + x * x) + cRe - zRe[k]!) / size[k]!;
      out[2 * k + 1] = ((-res * x) / (1 + x * x) + cIm - zIm[k]!) / size[k]!;
    }
  };
  const last = f.length - 1;
  const reactance = Math.max(1e-3 * size[last]!, zIm[last]!);
  const omega = 2 * Math.PI * f[last]!;
  const first: Record<string, number> = {
    re: Math.log(guess.re), res: Math.log(Math.max(0.1 * guess.re, guess.top - guess.re)), qms: Math.log(guess.qms), fs: Math.log(guess.fs),
    k: Math.log(reactance / Math.sin(0.35 * Math.PI) / omega ** 0.7), n: Math.log(0.7 / 0.3),
    le: Math.log(reactance / omega / 2), le2: Math.log((2 * reactance) / omega), re2: Math.log(2 * reactance),
  };
  const found = fitLeastSquares(residuals, names.map((name) => first[name]!), { count, maxIterations: 300 });
  const p = read(found.parameters);
  const { re = stated!, res, qms, fs } = p as Record<"re" | "res" | "qms" | "fs", number>;
  const qes = (re * qms) / res;
  const error = (name: string): number => {
    const i = names.indexOf(name);
    return i < 0 ? 0 : found.standardErrors[i]! * (name === "n" ? 1 - p["n"]! : 1);
  };
  const extra = Object.fromEntries(terms[coil].map((name) => [name, p[name]!]));
  const relativeErrors = {
    re: error("re"), fs: error("fs"), qms: error("qms"), qes: Math.hypot(error("re"), error("qms"), error("res")), ...Object.fromEntries(terms[coil].map((name) => [name, error(name)])),
  };
  return Object.freeze({
    model: Object.freeze({ re, fs: fs, qms: qms, qes, ...extra }),
    qts: (qms * qes) / (qms + qes),
    res: res,
    relativeErrors: Object.freeze(relativeErrors),
    misfit: Math.sqrt(found.squares / f.length),
    converged: found.converged,
  });
}

function coilImpedance(coil: CoilModel, p: Record<string, number>, omega: number): readonly [re: number, im: number] {
  if (coil === "none") return [0, 0];
  if (coil === "inductance") return [0, omega * p["le"]!];
  if (coil === "power") {
    const size = p["k"]! * omega ** p["n"]!;
    return [size * Math.cos((p["n"]! * Math.PI) / 2), size * Math.sin((p["n"]! * Math.PI) / 2)];
  }
  const x = omega * p["le2"]!;
  const r = p["re2"]!;
  const scale = (r * x) / (r * r + x * x);
  return [scale * x, omega * p["le"]! + scale * r];
}
