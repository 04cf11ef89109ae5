import { DividingNetworkError } from "../../errors";
import { checkOneOf } from "../../errors/internal";
import { bessel, type BesselNormalization } from "./bessel";
import { butterworth } from "./butterworth";
import { chebyshev } from "./chebyshev";
import { criticallyDamped } from "./critically-damped";
import { legendrePapoulis } from "./legendre-papoulis";
import { linkwitzRiley } from "./linkwitz-riley";
import { checkOrder } from "./prototype";
import type { Family, Prototype } from "./prototype-data";

/** A family by its name: those of prototypes, but for `"all-pole"`, which has no order to be asked for. */
export type FamilyName = Exclude<Family, "all-pole">;

/** A member of a family: what `crossover` and its relatives take. */
export interface FamilyOptions {
  /** By whose name the function goes. */
  readonly family: FamilyName;
  /** Order of each way, a whole number. */
  readonly order: number;
  /** dB: for `"chebyshev"`, and needed there. */
  readonly rippleDb?: number | undefined;
  /** For `"bessel"` (default `"half-power"`) and `"critically-damped"` (default `"half-power"`). */
  readonly normalization?: BesselNormalization | undefined;
}

export const familyOptionNames = ["family", "order", "rippleDb", "normalization"] as const;

const names: readonly FamilyName[] = ["butterworth", "linkwitz-riley", "bessel", "chebyshev", "legendre-papoulis", "critically-damped"];

/** The prototype of a family by options; options that belong to another family are refused. */
export function familyPrototype(caller: string, options: FamilyOptions): Prototype {
  const family = checkOneOf(caller, "family", options.family, names);
  const order = checkOrder(caller, options.order);
  const only = (option: "rippleDb" | "normalization", allowed: boolean): void => {
    if (!allowed && options[option] !== undefined) {
      throw new DividingNetworkError(
        "invalid-argument",
        `${caller}: "${option}" has no meaning for the family "${family}"`,
        "Leave it out",
      );
    }
  };
  only("rippleDb", family === "chebyshev");
  only("normalization", family === "bessel" || family === "critically-damped");
  const { normalization } = options;
  switch (family) {
    case "butterworth":
      return butterworth(order);
    case "linkwitz-riley":
      return linkwitzRiley(order);
    case "bessel":
      return bessel(order, normalization === undefined ? {} : { normalization });
    case "chebyshev":
      return chebyshev(order, { rippleDb: options.rippleDb! });
    case "legendre-papoulis":
      return legendrePapoulis(order);
    case "critically-damped":
      return criticallyDamped(
        order,
        normalization === undefined
          ? {}
          : { normalization: checkOneOf(caller, "normalization", normalization, ["half-power", "asymptote"]) },
      );
  }
}
