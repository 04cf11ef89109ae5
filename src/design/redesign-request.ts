import { DividingNetworkError } from "../errors";
import { checkNumber, checkOneOf, checkOptions, show } from "../errors/internal";
import type { Goal } from "../assessment";
import { goalOf } from "../assessment/internal";
import type { Stock } from "../parts";
import { isCoil, checkStock } from "../parts/internal";
import type { PreferredSeries } from "../quantity";
import type { RedesignOptions } from "./redesign-options";
import { coilResistance, valuesBetween, type CoilLaw } from "./series-parts";
import { stockSupply } from "./stock-supply";
import { checkTopologies } from "./topology-choice";
import type { TopologyChoice } from "./topology-choice-data";
import { seriesSupply, type Supply } from "./supply";

/** The names of the options. */
export const REDESIGN_OPTIONS = [
  "goal",
  "series",
  "stock",
  "largestPrice",
  "units",
  "mostPieces",
  "maxParts",
  "coilResistance",
  "ratedImpedance",
  "robust",
  "prove",
  "topologies",
  "levelStepDb",
  "heldBack",
  "signal",
  "onProgress",
] as const;

const SERIES = ["E3", "E6", "E12", "E24", "E48", "E96", "E192"] as const;

/** Options that are data alone. */
export interface PlainOptions extends Omit<RedesignOptions, "stock" | "coilResistance" | "signal" | "onProgress"> {
  readonly stock?: Stock;
}

/** What a redesign is asked for, checked. */
export interface RedesignRequest extends Pick<
  RedesignOptions,
  "ratedImpedance" | "robust" | "heldBack" | "levelStepDb" | "signal" | "onProgress"
> {
  readonly goal: Goal;
  readonly supply: Supply;
  readonly maxParts: number;
  /** Whether the loss of third-octave powers itself is searched. */
  readonly prove: boolean;
  readonly topologies: TopologyChoice | undefined;
  /** The options as checked, without functions. */
  readonly plain: PlainOptions;
  /** The law of coils, where it isn't the one that is taken when nothing is said. */
  readonly law: CoilLaw | undefined;
}

/** Checks the options of a redesign. */
export function redesignRequest(caller: string, options: RedesignOptions): RedesignRequest {
  const {
    goal: aim,
    series: asked,
    stock: drawer,
    largestPrice,
    units,
    mostPieces,
    prove = false,
    topologies: drawings,
    levelStepDb,
    heldBack,
    maxParts: most,
    coilResistance: ownLaw,
    ratedImpedance,
    robust,
    signal,
    onProgress,
  } = checkOptions(caller, options, REDESIGN_OPTIONS);
  const law = ownLaw ?? coilResistance;
  if (typeof law !== "function")
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "coilResistance" must be a function from H to Ω, got ${typeof law}`,
      "For example (l) => 350 * l",
    );
  const series = checkOneOf(caller, "series", asked ?? "E12", SERIES);
  const maxParts = most === undefined ? 8 : checkNumber(caller, "maxParts", most, { min: 2, max: 20, integer: true });
  if (drawer !== undefined && asked !== undefined)
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "series" and "stock" must not both be given`,
      "Leave out the series: the stock says what can be had",
    );
  const alone = Object.entries({ largestPrice, units, mostPieces }).find(([, value]) => value !== undefined)?.[0];
  if (drawer === undefined && alone !== undefined)
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "${alone}" must go with a stock, got no stock`,
      "Give the stock, or leave it out",
    );
  const market = {
    largestPrice: largestPrice === undefined ? Infinity : checkNumber(caller, "largestPrice", largestPrice, { min: 0 }),
    units: units === undefined ? 1 : checkNumber(caller, "units", units, { min: 1, max: 1000, integer: true }),
    mostPieces: mostPieces === undefined ? 1 : (checkNumber(caller, "mostPieces", mostPieces, { min: 1, max: 2, integer: true }) as 1 | 2),
  } as const;
  const stock = drawer === undefined ? undefined : checkStock(caller, "stock", drawer);
  const supply: Supply = stock === undefined ? seriesSupply(series, law) : stockSupply(caller, stock, law, market);
  const goal = goalOf(aim);
  const topologies = checkTopologies(caller, drawings);
  if (levelStepDb !== undefined) {
    checkNumber(caller, "levelStepDb", levelStepDb, { min: 0.1, max: 40, unit: "dB" });
    if (goal.places.every(({ levelDb }) => (levelDb ?? goal.levelDb) !== undefined))
      throw new DividingNetworkError(
        "invalid-argument",
        `${caller}: "levelStepDb" must go with a goal whose level is free: where the goal states it, what is louder is further from the goal`,
        "Leave out levelStepDb, or the goal's levelDb",
      );
  }
  if (typeof prove !== "boolean")
    throw new DividingNetworkError("invalid-argument", `${caller}: "prove" must be true or false, got ${show(prove)}`);
  if (prove && robust !== undefined)
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "prove" and "robust" must not both be given: nothing is proven of what is chosen by drawn loudspeakers`,
      "Leave one of them out",
    );
  return {
    goal,
    supply,
    maxParts,
    ratedImpedance,
    robust,
    prove: prove && goal.frequencies === undefined,
    topologies,
    levelStepDb,
    heldBack,
    signal,
    onProgress,
    plain: {
      goal,
      maxParts,
      ratedImpedance,
      robust,
      prove,
      topologies,
      levelStepDb,
      heldBack,
      ...(stock === undefined ? { series } : { stock, largestPrice, units, mostPieces }),
    },
    law: ownLaw,
  };
}

/** H: every inductance that a redesign with these options may look at. */
export function valuesOfCoils({ series = "E12", stock }: PlainOptions): readonly number[] {
  const own: readonly PreferredSeries[] = [series, "E12", "E6", "E3"];
  const lines = stock?.parts ?? [];
  return [
    ...new Set([
      ...own.flatMap((each) => valuesBetween(each, 1e-7, 10)),
      ...lines.flatMap(({ part }) => (isCoil(part) ? [part.inductance] : [])),
    ]),
  ];
}
