import type { Entries } from "../network";

/** A slot of a drawing: what may be bought for it, and whether it lies in the way to the driver or across it. */
export interface Slot {
  readonly kind: "resistor" | "inductor" | "capacitor";
  readonly way: "series" | "across";
  /** Parts that do nothing without one another have one word in common. */
  readonly together?: string;
  /** The branch that it is in. */
  readonly branch: string;
  /** SI: the least and the largest value looked at. */
  readonly from: number;
  readonly to: number;
  /** SI: the one value that is taken, where nothing is searched. */
  readonly fixed?: number;
}

/** A network drawn for a combination of branches, each slot with a value from the middle of its range; its names are the search's own. */
export interface Drawing {
  readonly network: Entries;
  readonly slots: Readonly<Record<string, Slot>>;
}
