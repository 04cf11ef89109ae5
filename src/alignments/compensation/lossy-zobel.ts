import { DividingNetworkError } from "../../errors";
import { checkOptions } from "../../errors/internal";
import { fitLeastSquares, logGrid } from "../../numeric";
import { capacitor, resistor, type DriverImpedance, type DriverOptions } from "../../parts";
import { startWorking, type Frequency, type Resistance, type Working } from "../../quantity";
import { checkBand } from "../filters/band-pass";
import type { Branch } from "../branch";
import { checkFrequency, checkLoad } from "../filters/check-filter";
import { flatness, shuntedImpedance, type Flatness } from "./flatness";
import { driverPartOf, type GivenDriver } from "./given-driver";
import { placedBranch } from "./placed";
import type { SeriesRc } from "./zobel";

/** The best resistor and capacitor in series for a coil that is no pure inductance. */
export interface LossyZobel {
  /** Ω */
  readonly r: number;
  /** F */
  readonly c: number;
  /** Ω: what driver and network are meant to be. */
  readonly resistance: number;
  /** |Z/R − 1| with the network, at its worst in the band. */
  readonly error: Flatness;
  /** The same without it. */
  readonly before: Flatness;
  /** Resistor and capacitor in series, across the driver. */
  readonly branch: Branch<SeriesRc>;
  /** How each number came about. */
  readonly working: Working;
}

/**
 * The Zobel network (Ω, F) that comes nearest to a constant resistance for a driver with a lossy (semi-inductive) voice
 * coil, or a measured one: R and C that make $\sum |R_0 (Y_{driver} + Y_{RC}) - 1|^2$ least over a band, on 200 points
 * of equal ratio.
 *
 * @param driver its parameters (`re` in Ω, with `re2`/`le2` or `k`/`n`), a part from `driverImpedance`, what `driverParameters` found, or a
 *   measured impedance (Ω), which is taken as it is
 * @param options `from` and `to` (Hz): the band, which belongs above the resonance; `resistance` (Ω): $R_0$, default
 *   the driver's `re`, needed for a measurement
 * @returns parts (Ω, F), worst error with and without them (dimensionless), fragment and working
 * @throws DividingNetworkError `invalid-argument`, `invalid-quantity`, `unknown-option`, `no-solution`
 * @example
 * ```ts
 * import { lossyZobel } from "dividing-network/alignments";
 *
 * const network = lossyZobel({ re: 6, k: 0.02, n: 0.7 }, { from: 200, to: 20000 });
 * network.error.worst < network.before.worst; // true
 * ```
 */
export function lossyZobel(
  driver: DriverOptions | GivenDriver,
  options: { readonly from: Frequency; readonly to: Frequency; readonly resistance?: Resistance | undefined },
): LossyZobel {
  const caller = "lossyZobel";
  const given = checkOptions(caller, options, ["from", "to", "resistance"]);
  const part = driverPartOf(caller, driver);
  const [from, to] = [checkFrequency(caller, "from", given.from), checkFrequency(caller, "to", given.to)];
  checkBand(caller, from, to);
  const known = "model" in part ? part.model.re : undefined;
  const resistance = checkLoad(caller, "resistance", given.resistance ?? known);
  const [r, c] = fit(part, resistance, logGrid(from, to, 200));
  const branch = placedBranch<SeriesRc>(`${caller}.branch`, { R1: [resistor(r), "from", "R1.a"], C1: [capacitor(c), "R1.a", "to"] });
  const steps = startWorking();
  const text = {
    formula: "least sum of |R0 (Ydriver + 1/(R + 1/(jωC))) − 1|² over the band",
    tex: "\\min_{R,C} \\sum_\\omega \\left|R_0\\left(Y_d + \\frac{1}{R + 1/(j\\omega C)}\\right) - 1\\right|^2",
    source: "least squares (Levenberg–Marquardt)",
  };
  const inputs = { R0: [resistance, "Ω"], f1: [from, "Hz"], f2: [to, "Hz"] } as const;
  steps.step("R", "Ω", text, inputs, () => r);
  steps.step("C", "F", text, inputs, () => c);
  return Object.freeze({
    r,
    c,
    resistance,
    error: flatness(part, branch({ from: "in", to: "gnd" }), resistance, from, to),
    before: flatness(part, {}, resistance, from, to),
    branch,
    working: steps.done(),
  });
}

/** Minimises over log R and log C, from R₀ and from the capacitor that cancels the driver's susceptance at the middle of the band. */
function fit(driver: DriverImpedance, resistance: number, grid: Float64Array): [number, number] {
  const z = shuntedImpedance(driver, {}, grid);
  const size = z.re.map((re, i) => re * re + z.im[i]! * z.im[i]!);
  const own = { re: z.re.map((re, i) => (resistance * re) / size[i]! - 1), im: z.im.map((im, i) => (-resistance * im) / size[i]!) };
  const middle = grid.length >> 1;
  const start = [0, Math.log(Math.max(-own.im[middle]!, 1e-3) / (2 * Math.PI * grid[middle]! * resistance))];
  const residuals = ([logR, logC]: Float64Array, out: Float64Array): void => {
    const [r, c] = [resistance * Math.exp(logR!), Math.exp(logC!)];
    for (let i = 0; i < grid.length; i++) {
      const x = -1 / (2 * Math.PI * grid[i]! * c);
      out[2 * i] = own.re[i]! + (resistance * r) / (r * r + x * x);
      out[2 * i + 1] = own.im[i]! - (resistance * x) / (r * r + x * x);
    }
  };
  const { parameters } = fitLeastSquares(residuals, start, { count: 2 * grid.length, maxIterations: 300 });
  const [r, c] = [resistance * Math.exp(parameters[0]!), Math.exp(parameters[1]!)];
  if (!(r > 1e-3 * resistance && r < 1e3 * resistance && c > 1e-12 && c < 1)) {
    throw new DividingNetworkError(
      "no-solution",
      "lossyZobel: no resistor and capacitor bring this impedance nearer to a resistance in this band",
      "Begin the band above the resonance, and state a resistance below the impedance there",
    );
  }
  return [r, c];
}
