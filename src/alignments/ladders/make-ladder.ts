import { DividingNetworkError } from "../../errors";
import { show, shown } from "../../errors/internal";
import { join, network } from "../../network";
import { resistor } from "../../parts";
import type { Working } from "../../quantity";
import type { TransferFunction } from "../../response";
import { chainBranch, type ChainPart } from "./chain-branch";
import { ladderViews } from "../views";
import type { Ladder } from "./ladder-data";

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
    elements: Object.freeze(
      elements.map(({ designator, placement, kind, value }) => Object.freeze({ designator, placement, kind, value })),
    ),
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
