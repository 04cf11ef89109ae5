import { DividingNetworkError } from "../errors";
import { show, shown } from "../errors/internal";
import { join, network, type Network } from "../network";
import { resistor, type Resistor } from "../parts";
import type { Working } from "../quantity";
import type { TransferFunction } from "../response";
import { chainBranch, type ChainPart, type LadderBranch, type LadderEntries } from "./chain-branch";
import { ladderViews } from "./views";

/** One reactance of a ladder. */
export interface LadderElement {
  /** `"L1"`, `"C2"`: numbered from source to load. */
  readonly designator: string;
  /** On the way from source to load, or from there to the return. */
  readonly placement: "series" | "shunt";
  /** Coil or capacitor. */
  readonly kind: "inductor" | "capacitor";
  /** H or F. */
  readonly value: number;
}

/** A ladder from `in` into a resistor named `load` at the node `out`. */
export type LoadedLadder = Network<LadderEntries<{
  /** The source's node. */
  readonly from: "in";
  /** The load's node. */
  readonly to: "out";
}> & {
  /** The load as a resistor. */
  readonly load: readonly [Resistor, "out", "gnd"];
}>;

/** A lossless ladder with everything that is known about it. */
export interface Ladder {
  /** From source to load. */
  readonly elements: readonly LadderElement[];
  /** H and F, from source to load. */
  readonly values: readonly number[];
  /** H and F by designator. */
  readonly parts: Readonly<Record<string, number>>;
  /** Ω: the load that it is made for. */
  readonly load: number;
  /** Ω: the source resistance that it is made for. */
  readonly sourceResistance: number;
  /** V at the load per V of the source's open-circuit voltage. */
  readonly transfer: TransferFunction;
  /** The ladder's parts between two nodes, without the load, as a fragment for `join`. */
  readonly branch: LadderBranch;
  /** The ladder from `in` into a resistor named `load` at the node `out`; solve it with `sourceImpedance` where it is made for one. */
  readonly network: LoadedLadder;
  /** How each value came about. */
  readonly working: Working;
}

/** Checks that something is a ladder, as `ladder` makes it. */
export function checkLadder(caller: string, argument: string, value: unknown): void {
  const given = (typeof value === "object" && value !== null ? value : {}) as Partial<Ladder>;
  if (!Array.isArray(given.elements) || typeof given.load !== "number" || typeof given.transfer !== "object") {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "${argument}" must be a ladder with its elements, load and transfer, got ${show(value)}`,
      "Give what ladder returns, or one of the two ways of a crossover",
    );
  }
}

export function makeLadder(
  caller: string,
  elements: readonly (ChainPart & { readonly kind: "inductor" | "capacitor" })[],
  resistances: { readonly load: number; readonly sourceResistance: number },
  transfer: TransferFunction,
  working: Working,
): Ladder {
  const bad = elements.find(({ value }) => !(value > 0 && Number.isFinite(value)));
  if (bad !== undefined) {
    throw new DividingNetworkError(
      "not-realizable",
      `${caller}: ${bad.designator} must be a positive number, got ${bad.value}`,
      "Check the load and the corner",
    );
  }
  const branch = chainBranch(`${caller}.branch`, elements);
  const ladder: Ladder = {
    elements: Object.freeze(elements.map(({ designator, placement, kind, value }) => Object.freeze({ designator, placement, kind, value }))),
    values: Object.freeze(elements.map(({ value }) => value)),
    parts: Object.freeze(Object.fromEntries(elements.map(({ designator, value }) => [designator, value]))),
    ...resistances,
    transfer,
    branch,
    network: network(join(branch({ from: "in", to: "out" }), { load: [resistor(resistances.load), "out", "gnd"] })),
    working,
  };
  return Object.freeze(shown(ladder, ladderViews));
}
