import { DividingNetworkError } from "../errors";
import { checkNumber, checkOneOf, checkOptions, show } from "../errors/internal";
import type { WholeMeasurement } from "../assessment";
import type { Loudspeaker } from "../loudspeaker";
import { checkLoudspeaker } from "../loudspeaker/internal";
import { compile, network as networkOf, type Entries, type Network } from "../network";
import type { FrequencyResponse } from "../response";
import { alikeDirections, type AlikeValues } from "./alike-directions";
import { numbersOf } from "./identify-data";
import { coarser } from "./identify-coarser";
import { deviationsOf, type Budget, type Source } from "./identify-deviations";
import { fitsOf, othersThan } from "./identify-fits";
import { observations } from "./identify-observations";
import { scatterOf } from "./identify-scatter";
import { unknownsOf, withValues } from "./identify-unknowns";

/** What `identify` takes. */
export interface IdentifyOptions {
  /** Ω at the network's input, without the source's own, drivers connected. */
  readonly impedance?: FrequencyResponse | undefined;
  /** V across parts, or from nodes to `gnd`, per volt at `in`, by name; dimensionless. */
  readonly transfers?: Readonly<Record<string, FrequencyResponse>> | undefined;
  /** Of the whole loudspeaker, where each driver was measured, too: Pa at places in m and degrees, with the source's V. Needs a loudspeaker. */
  readonly pressures?: readonly WholeMeasurement[] | undefined;
  /** `"common"` (default): the whole's phase counts from the drivers' common time zero; `"unknown"`: levels alone are fitted. */
  readonly pressurePhase?: "common" | "unknown" | undefined;
  /** How often the network may be solved, once for each frequency and set of values, dimensionless; default 2 million (half a minute), or 200 for each frequency measured, where that is more. What is found by then is given, and `doubts` says so. */
  readonly mostSolves?: number | undefined;
  /** Designators of what has an unknown value: resistors, coils and capacitors, couplings (their factor) and ideal transformers (their ratio). Default all resistors, capacitors and uncoupled coils above 0. */
  readonly vary?: readonly string[] | undefined;
  /** Whether the losses of these parts (dcr, esr, dissipation factor) are unknown too, where they are drawn above 0; default false. */
  readonly parasitics?: boolean | undefined;
  /**
   * Standard deviation of each real and imaginary part of ln Z, of ln(V/V) and of ln p, so part of the value and radians; dimensionless. Default: from
   * what the fit leaves, equal for all.
   */
  readonly repeatability?:
    | {
        /** Part of |Z|, dimensionless. */
        readonly impedance?: number | undefined;
        /** Part of |V/V|, dimensionless. */
        readonly transfer?: number | undefined;
        /** Part of |p|, dimensionless. */
        readonly pressure?: number | undefined;
      }
    | undefined;
}

/** A value that was found. */
export interface IdentifiedValue {
  /** Its designator. */
  readonly part: string;
  /** `resistance`, `inductance`, `capacitance`, `k`, `ratio`, `dcr`, `esr`, `dissipationFactor`. */
  readonly parameter: string;
  /** SI: Ω, H, F, or dimensionless. */
  readonly value: number;
  /** Standard error, in the same unit; undefined where the data do not determine the value. */
  readonly standardError: number | undefined;
}

/** A network's values from its measurements. */
export interface Identified {
  /** With the values found, SI. */
  readonly network: Network;
  /** In the order of `vary`, else of the network; SI. */
  readonly values: readonly IdentifiedValue[];
  /** Root mean square of what is left of ln Z, ln(V/V) and ln p: part of the value and radians, dimensionless. */
  readonly misfit: number;
  /** Of neighbouring deviations, −1 … 1, dimensionless: near 0 for independent scatter; near 1 where the drawing isn't what was measured, or the measurement was smoothed. */
  readonly correlation: number;
  /** Groups of values that the data can't tell apart, or don't see. Empty when all are determined. */
  readonly alike: readonly AlikeValues[];
  /** Other sets of values (SI, in the order of `values`) that fit as well. */
  readonly alternatives: readonly Float64Array[];
  /** How often the network was solved, once for each frequency and set of values, dimensionless. */
  readonly solves: number;
  /** Why the values may be further off than their standard errors say, in words: what is left isn't what chance leaves. Empty where it is. */
  readonly doubts: readonly string[];
}

const CALLER = "identify";
/** Solutions of the network, each at one frequency: half a minute. */
const MOST_SOLVES = 2_000_000;
/** Sets of values for which long measurements may be solved on all points. */
const SETS = 200;
/**
 * The values of a network of known topology from its measured impedance, voltages within it, sound pressures of the whole loudspeaker, or several of these: least squares on the logarithms of values
 * and of the measurements, with exact derivatives (see `sensitivities`), from several starts. The factor of a coupling moves on the scale of its area tangent, and so stays between −1 and 1;
 * factors by which several coils would store negative energy are never tried; a ratio keeps its sign. Standard errors hold for independent errors of
 * normal distribution, small enough that the network is linear in them. Where what is left is no chance (another topology than that drawn, say) they
 * are widened, and `doubts` says so: they are then a hint, and no bound.
 *
 * @param system a network, or a loudspeaker (then its network), values as drawn or guessed, within a factor of ten or so
 * @param options `impedance` in Ω; `transfers` in V/V by part or node; `pressures` in Pa (m, degrees, V); `pressurePhase`; `mostSolves` (dimensionless); `vary`; `parasitics`; `repeatability` as a part of the value (dimensionless)
 * @returns the network, its values in SI with standard errors, and what the data can't tell apart
 * @throws DividingNetworkError `not-measured` when none is given, or pressures where a driver wasn't measured, `undetermined` with fewer points than unknowns or when nothing fits, `unknown-part`,
 *   `unknown-name`, `invalid-argument`, and what `solve` throws
 * @example
 * ```ts
 * import { capacitor, inductor, logGrid, network, resistor, solve } from "dividing-network";
 * import { identify } from "dividing-network/design";
 *
 * const lowPass = (l: number, c: number) => network({ L1: [inductor(l, { dcr: 0.3 }), "in", "w"], C1: [capacitor(c), "w", "gnd"], woofer: [resistor(6), "w", "gnd"] });
 * const { impedance } = solve(lowPass(0.82e-3, 12e-6), logGrid(50, 10_000, 60));
 * const { values } = identify(lowPass(1e-3, 10e-6), { impedance, vary: ["L1", "C1"] });
 * values[0]?.value; // 0.00082
 * values[1]?.value; // 0.000012
 * ```
 */
export function identify<T extends Entries>(system: T | Loudspeaker<T>, options: IdentifyOptions): Identified {
  const { network, box } = systemIn(system);
  const {
    impedance,
    transfers = {},
    vary,
    parasitics = false,
    repeatability = {},
    pressures,
    pressurePhase = "common",
    mostSolves: most,
  } = checkOptions(CALLER, options, [
    "impedance",
    "transfers",
    "pressures",
    "pressurePhase",
    "vary",
    "parasitics",
    "repeatability",
    "mostSolves",
  ]);
  const phase = checkOneOf(CALLER, "pressurePhase", pressurePhase, ["common", "unknown"]);
  if (most !== undefined) checkNumber(CALLER, "mostSolves", most, { min: 1000, max: 1e9, integer: true });
  if (typeof parasitics !== "boolean")
    throw new DividingNetworkError("invalid-argument", `${CALLER}: "parasitics" must be true or false, got ${show(parasitics)}`);
  const stated = checkOptions(`${CALLER}: repeatability`, repeatability, ["impedance", "transfer", "pressure"]);
  for (const key of ["impedance", "transfer", "pressure"] as const)
    if (stated[key] !== undefined) checkNumber(CALLER, `repeatability.${key}`, stated[key], { above: 0 });
  compile(network);
  const unknowns = unknownsOf(CALLER, network, vary, parasitics);
  const seen = observations(CALLER, network, box, impedance, transfers, pressures, phase === "unknown");
  const anyStated = stated.impedance ?? stated.transfer ?? stated.pressure;
  const sigma = {
    impedance: stated.impedance ?? anyStated ?? 1,
    transfer: stated.transfer ?? anyStated ?? 1,
    pressure: stated.pressure ?? anyStated ?? 1,
  };
  const known = anyStated !== undefined;
  const points = seen.reduce((sum, one) => sum + numbersOf(one), 0);
  if (points < unknowns.length)
    throw new DividingNetworkError(
      "undetermined",
      `${CALLER}: there must be at least as many measured numbers as unknown values, got ${points} for ${unknowns.length}`,
      "Measure at more frequencies, or name fewer parts in vary",
    );
  const source = box?.sourceImpedance as Source;
  const mostSolves = most ?? Math.max(MOST_SOLVES, SETS * seen.reduce((sum, { frequencies }) => sum + frequencies.length, 0));
  // Half of what may be solved is kept for the fits on all points.
  const [first, second]: [Budget, Budget] = [
    { left: mostSolves / 2, used: 0 },
    { left: mostSolves / 2, used: 0 },
  ];
  const fine = deviationsOf(network, unknowns, seen, sigma, source, second);
  const ranked = fitsOf(fine, deviationsOf(network, unknowns, seen.map(coarser), sigma, source, first), unknowns);
  const best = ranked[0];
  if (best === undefined)
    throw new DividingNetworkError(
      "undetermined",
      `${CALLER}: from no start did the network's values come to a fit`,
      "Draw the values nearer to what they are, or look whether the drawing is that of what was measured",
    );
  const left = deviationsOf(network, unknowns, seen, { impedance: 1, transfer: 1, pressure: 1 }, source, second).residualsAt(
    best.parameters,
  );
  const ended = [first, second].some((budget) => budget.left < seen.reduce((sum, { frequencies }) => sum + frequencies.length, 0));
  const misfit = Math.sqrt(left.reduce((sum, value) => sum + value * value, 0) / points);
  const { scatter, correlation, doubts } = scatterOf(fine.residualsAt(best.parameters), seen, points - unknowns.length, known, misfit);
  const { alike, errors } = alikeDirections(unknowns, fine.normalAt(best.parameters), scatter);
  const values = unknowns.map(({ part, parameter, scale }, index) => {
    const at = best.parameters[index]!;
    const error = points > unknowns.length || known ? errors[index] : undefined;
    return Object.freeze({
      part,
      parameter,
      value: scale.value(at),
      standardError: error === undefined ? undefined : Math.abs(scale.slope(at)) * error,
    });
  });
  return Object.freeze({
    network: networkOf<Entries>(withValues(network, unknowns, best.parameters)),
    values: Object.freeze(values),
    misfit,
    correlation,
    alike,
    alternatives: Object.freeze(alike.length > 0 ? [] : othersThan(best, ranked, unknowns, scatter)),
    solves: first.used + second.used,
    doubts: ended
      ? Object.freeze([
          ...doubts,
          `the network may be solved ${mostSolves} times: the search ended before its end, and a better fit may be left`,
        ])
      : doubts,
  });
}

function systemIn(system: unknown): { readonly network: Entries; readonly box?: Loudspeaker<Entries> } {
  if (typeof system !== "object" || system === null)
    throw new DividingNetworkError("invalid-argument", `${CALLER}: "system" must be a network or a loudspeaker, got ${show(system)}`);
  const { network, drivers } = system as { readonly network?: unknown; readonly drivers?: unknown };
  const isBox = Array.isArray(drivers) && typeof network === "object" && network !== null && !Array.isArray(network);
  if (!isBox) return { network: system as Entries };
  const box = checkLoudspeaker(CALLER, system as Loudspeaker<Entries>);
  return { network: box.network, box };
}
