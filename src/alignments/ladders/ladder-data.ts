import type { Network } from "../../network";
import type { Resistor } from "../../parts";
import type { Working } from "../../quantity";
import type { TransferFunction } from "../../response";
import type { LadderBranch, LadderEntries } from "./chain-branch";

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
export type LoadedLadder = Network<
  LadderEntries<{
    /** The source's node. */
    readonly from: "in";
    /** The load's node. */
    readonly to: "out";
  }> & {
    /** The load as a resistor. */
    readonly load: readonly [Resistor, "out", "gnd"];
  }
>;

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
