import { DividingNetworkError } from "../errors";
import { checkNumber, checkOptions } from "../errors/internal";
import { lossOf, type Goal, type GoalOptions } from "../assessment";
import { goalOf, lossEvenIfSilent } from "../assessment/internal";
import type { Loudspeaker } from "../loudspeaker";
import { checkLoudspeaker } from "../loudspeaker/internal";
import { compile, network as networkOf, type Entries, type Network } from "../network";
import type { Capacitor, Coupling, Inductor, Resistor, Transformer } from "../parts";
import type { Capacitance, Inductance, Resistance } from "../quantity";
import { chosen } from "./choices";
import type { DriverPolarity } from "./choose-values-data";
import { constrainedFit, KEPT } from "./constrained-fit";
import { fitProblem } from "./fit-problem";
import { checkLaw, fitVariables } from "./fit-variables";
import { withValues } from "./moving-value";
import { heardLevels } from "./heard-levels";
import { limitsOf, type Limits } from "./limits";
import { missesOf, type Miss } from "./misses";
import { bestOfStarts, type ManyFits } from "./many-starts";
import { pauseFor } from "./pause";
import type { CoilLaw } from "./series-parts";
import { tightened } from "./tightened-limits";
import { turnsOf } from "./turns";

/** Between which values a part is fitted. */
export interface FitBounds<P = Resistor | Inductor | Capacitor | Coupling | Transformer> {
  /** Least value, SI or text; default a tenth of what is drawn. Of a coupling: its factor (dimensionless, above −1), default −0.95. Of an ideal transformer: the size of its ratio, whose sign stays. */
  readonly from?:
    | (P extends Resistor
        ? Resistance
        : P extends Inductor
          ? Inductance
          : P extends Capacitor
            ? Capacitance
            : P extends Coupling | Transformer
              ? number
              : never)
    | undefined;
  /** Largest value, SI or text; default ten times what is drawn. Of a coupling: its factor (dimensionless, below 1), default 0.95. Of an ideal transformer: the size of its ratio. */
  readonly to?:
    | (P extends Resistor
        ? Resistance
        : P extends Inductor
          ? Inductance
          : P extends Capacitor
            ? Capacitance
            : P extends Coupling | Transformer
              ? number
              : never)
    | undefined;
  /** Of a coil: Ω by its inductance in H; default that of all coils. */
  readonly coilResistance?: CoilLaw | undefined;
}

/** What `fitValues` takes. */
export interface FitValuesOptions<T extends Entries = Entries> {
  /** The goal, or its options: Hz, m, dB, degrees. */
  readonly goal: Goal | GoalOptions;
  /** Designators of resistors, coils, capacitors, couplings (their factor) and ideal transformers (their ratio), or bounds by designator. Default all resistors, capacitors and uncoupled coils above 0. */
  readonly vary?: readonly (keyof T & string)[] | { readonly [N in keyof T]?: FitBounds<T[N][0]> | undefined } | undefined;
  /** Ω of a fitted coil by its inductance in H; default: its resistance stays as drawn. */
  readonly coilResistance?: CoilLaw | undefined;
  /** By the designator of a driver's part: as drawn (`"same"`, the default), the other way round, or whichever is better. */
  readonly polarity?: { readonly [N in keyof T]?: DriverPolarity | "either" | undefined } | undefined;
  /** Ω by which the loudspeaker is sold: 80 % of it is then the smallest |Z|, unless the goal states another or only stated limits hold. */
  readonly ratedImpedance?: Resistance | undefined;
  /** How many places the search begins from, the drawing included, dimensionless; default 16. */
  readonly starts?: number | undefined;
  /** Which other places these are, dimensionless; default 1. */
  readonly seed?: number | undefined;
  /** Anything with an `aborted` flag, such as an `AbortSignal`: the fit is then refused with `aborted`. */
  readonly signal?:
    | {
        /** True once it is to stop. */
        readonly aborted: boolean;
      }
    | undefined;
}

/** A value that was fitted. */
export interface FittedValue {
  /** Its designator. */
  readonly part: string;
  /** `resistance`, `inductance`, `capacitance`; `k` of a coupling, `ratio` of an ideal transformer. */
  readonly parameter: "resistance" | "inductance" | "capacitance" | "k" | "ratio";
  /** SI: Ω, H or F; a factor and a ratio are dimensionless. */
  readonly value: number;
  /** Which bound it stands on; absent where none. */
  readonly bound?: "from" | "to";
}

/** A network whose values were fitted. */
export interface FittedValues {
  /** With the values found, SI. */
  readonly network: Network;
  /** dB, as `lossOf` gives it. */
  readonly lossDb: number;
  /** In the order of `vary`, else of the network; SI. */
  readonly values: readonly FittedValue[];
  /** How many starts came to an end, dimensionless. */
  readonly starts: number;
  /** How many of these ended as low as the best, within 1 % of the mean square on the coarse grid; few of many: there may be a better one. Dimensionless. */
  readonly agreeing: number;
  /** Of each driver's part that was named. */
  readonly polarity: Readonly<Record<string, DriverPolarity>>;
}

const CALLER = "fitValues";
/** Frequencies of the coarse search at most. */
const COARSE = 40;
/** How often a fit that misses limits a little is held to a little more, and for how many steps each. */
const [TIGHTENED, FINE_ITERATIONS] = [5, 100];

/** Where the fit of one polarity ended. */
interface Ended {
  readonly fits: ManyFits;
  readonly turned: ReadonlySet<string>;
  readonly parameters: Float64Array;
  readonly squares: number;
  readonly misses: readonly Miss[];
  readonly network: Network;
}

/** What keeps the limits first, then the smaller sum; where neither keeps them, the smaller miss. */
function isNearer(one: Ended, other: Ended): boolean {
  const miss = ({ misses }: Ended) => misses.reduce((sum, { by }) => sum + by, 0);
  return miss(one) < miss(other) || (miss(one) === miss(other) && one.squares < other.squares);
}

/**
 * The values that bring a network of known topology nearest to a goal: bounded least squares on the logarithms of values, over all the goal's places, with exact derivatives, from the drawing and from
 * other places of the box between the bounds (seeded). Values are continuous: `chooseValues` is for parts that can be bought. Factors of couplings by which several coils
 * would store negative energy are never tried.
 *
 * The goal's limits hold, as constraints (but for ratings, which are judged at the end): an augmented Lagrangian makes them kept in the end and not only nearly, and the answer is judged once more by its own solution. Coils keep the resistance that is drawn, or
 * follow `coilResistance`; losses of capacitors stay as drawn. Where the goal states no frequencies, the fit takes |p|² as straight between the points of the prediction, on
 * twelve nodes per octave, which differs from `lossOf` by some 10⁻³ dB; `lossDb` is that of `lossOf`. It is the best found, no proof.
 *
 * @param loudspeaker network, drivers and source; its values are the first start
 * @param options `goal`; `vary` with bounds in SI or text; `coilResistance` (Ω by H); `polarity`; `ratedImpedance` in Ω; `starts`, `seed` (dimensionless); `signal`
 * @returns the network, its loss in dB, the values in SI, and how many starts agree (dimensionless)
 * @throws DividingNetworkError `no-feasible-network` naming the limits that the nearest found breaks, `undetermined` where no start comes to an end, `aborted`, `unknown-part`,
 *   `invalid-argument`, `unsupported` for coupled coils or ideal transformers behind a source whose impedance was measured, and what `lossOf` throws
 * @example
 * ```ts
 * import { frequencyResponse, inductor, logGrid, loudspeaker, pressurePerVolt, resistor } from "dividing-network";
 * import { fitValues } from "dividing-network/design";
 *
 * // A flat 8 Ω driver that is to fall as a first order at 1 kHz does.
 * const grid = logGrid(200, 5000, 15);
 * const loud = pressurePerVolt({ response: frequencyResponse(grid, grid.map(() => 0.1), grid.map(() => 0)), drive: { voltage: 1, at: "terminals" }, distance: 1, timeZero: "common" });
 * const box = loudspeaker({ network: { L1: [inductor("1 mH"), "in", "a"], cone: [resistor(8), "a", "gnd"] }, drivers: [{ name: "cone", pressures: [loud] }] });
 * const curve = { frequencies: grid, levelDb: grid.map((f) => -10 * Math.log10(1 + (f / 1000) ** 2)) };
 * const { values } = await fitValues(box, { goal: { frequencies: grid, curve, limits: "stated" } });
 * values[0]?.value; // 0.0012732
 * ```
 */
export async function fitValues<T extends Entries>(loudspeaker: Loudspeaker<T>, options: FitValuesOptions<T>): Promise<FittedValues> {
  const box = checkLoudspeaker(CALLER, loudspeaker) as unknown as Loudspeaker;
  const {
    goal: aim,
    vary,
    coilResistance,
    polarity = {},
    ratedImpedance,
    starts = 16,
    seed = 1,
    signal,
  } = checkOptions(CALLER, options, ["goal", "vary", "coilResistance", "polarity", "ratedImpedance", "starts", "seed", "signal"]);
  checkNumber(CALLER, "starts", starts, { min: 1, max: 1000, integer: true });
  checkNumber(CALLER, "seed", seed, { min: 0, max: 2 ** 32 - 1, integer: true });
  // Whether it is a network at all is said by the network.
  compile<Entries>(box.network);
  const goal = goalOf(aim);
  if (goal.frequencies !== undefined && !(goal.frequencies[0]! > 0))
    throw new DividingNetworkError("invalid-argument", `${CALLER}: "goal.frequencies" must lie above 0 Hz, got ${goal.frequencies[0]}`);
  const variables = fitVariables(CALLER, box, vary, checkLaw(CALLER, "coilResistance", coilResistance));
  const turns = turnsOf(CALLER, box, goal, polarity);
  const limits = limitsOf(CALLER, box, goal, ratedImpedance);
  const drawn = lossEvenIfSilent(box, goal);
  const { distance } = drawn;
  const [few, all] = [heardLevels(box, goal, drawn, COARSE), heardLevels(box, goal, drawn, Infinity)];
  const first = Float64Array.from(variables, ({ drawn: value, scale }) => scale.of(value));
  const pause = pauseFor(CALLER, signal);
  let best: Ended | undefined;
  for (const turned of turns.sets) {
    const own = { ...box, network: chosen(box.network, [], [], turned) };
    const problem = (held: Limits, coarse: boolean) => fitProblem(CALLER, own, goal, variables, held, coarse ? few : all, distance, coarse);
    const fits = await bestOfStarts(problem(limits, true), problem(limits, false), first, starts, seed, pause);
    if (fits === undefined) continue;
    const builtOf = (parameters: Float64Array) => networkOf<Entries>(withValues(own.network, variables, parameters));
    const missed = (parameters: Float64Array) => missesOf({ ...box, network: builtOf(parameters) }, goal, limits);
    // Between the points at which a fit looks at limits, and in what it takes as straight, they may be missed by a little: it is held to a little more then.
    let [parameters, squares, held] = [fits.best.parameters, fits.best.squares, limits];
    let misses = missed(parameters);
    for (let round = 0; round < TIGHTENED && misses.length > 0; round++) {
      held = tightened(held, misses);
      const again = constrainedFit(problem(held, false), parameters, FINE_ITERATIONS);
      const wait = pause();
      if (wait !== undefined) await wait;
      if (again === undefined) break;
      ({ parameters, squares } = again);
      misses = missed(parameters);
    }
    const ended = { fits, turned, parameters, squares, misses, network: builtOf(parameters) };
    if (best === undefined || isNearer(ended, best)) best = ended;
  }
  if (best === undefined)
    throw new DividingNetworkError(
      "undetermined",
      `${CALLER}: from no start did the fit come to an end: between these bounds the loudspeaker is silent at some place or frequency, or its network can't be solved`,
      "Draw values that make sound at every frequency of the goal",
    );
  const { network, parameters, misses } = best;
  if (misses.length > 0)
    throw new DividingNetworkError(
      "no-feasible-network",
      `${CALLER}: no values were found that keep the goal's limits; of the nearest, ${misses.map(({ limit, says }) => `${limit}: ${says}`).join("; ")}`,
      'Widen the bounds, draw another topology, or state what may be missed: goal({ limits: "stated", … })',
    );
  const {
    fits: { ended, agreeing },
    turned,
  } = best;
  return Object.freeze({
    network,
    lossDb: lossOf({ ...box, network }, goal).lossDb,
    values: Object.freeze(
      variables.map(({ part, parameter, scale, lower, upper }, index) => {
        const x = parameters[index]!;
        const bound = x <= lower + KEPT ? ("from" as const) : x >= upper - KEPT ? ("to" as const) : undefined;
        return Object.freeze({ part, parameter, value: scale.value(x), ...(bound === undefined ? {} : { bound }) });
      }),
    ),
    starts: ended,
    agreeing,
    polarity: Object.freeze(Object.fromEntries(turns.named.map((part) => [part, turned.has(part) ? "reversed" : "same"] as const))),
  });
}
