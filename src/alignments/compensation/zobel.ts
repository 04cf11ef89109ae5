import { DividingNetworkError } from "../../errors";
import { checkOptions } from "../../errors/internal";
import { capacitor, resistor, type Capacitor, type DriverOptions, type Resistor } from "../../parts";
import { startWorking, type Inductance, type Resistance, type Working } from "../../quantity";
import { inSi } from "../../quantity/internal";
import type { Branch } from "../branch";
import { checkLoad } from "../filters/check-filter";
import { driverOptionsOf, type GivenDriver } from "./given-driver";
import { placedBranch } from "./placed";

/** A resistor and a capacitor in series, between the branch's nodes. */
export interface SeriesRc {
  /** `r`, in series with `C1`. */
  readonly R1: readonly [Resistor, "from", "R1.a"];
  /** `c`, in series with `R1`. */
  readonly C1: readonly [Capacitor, "R1.a", "to"];
}

/** A resistor and a capacitor in series, to be put across a driver. */
export interface Zobel {
  /** Ω */
  readonly r: number;
  /** F */
  readonly c: number;
  /** The series branch between the driver's nodes. */
  readonly branch: Branch<SeriesRc>;
  /** How each number came about. */
  readonly working: Working;
}

/**
 * The Zobel network (Ω, F) of a driver whose impedance is $R_e + sL_e$: $R = R_e$ in series with $C = L_e/R_e^2$,
 * across the driver. Both together are $R_e$ at every frequency, as the two branches are each other's duals. A real
 * voice coil is lossy: see `lossyZobel`.
 *
 * @param driver `re` in Ω and `le` in H, both above 0; or a driver: from `driverImpedance`, what `driverParameters` found, or a measured
 *   impedance in Ω, to which a coil that is an inductance is fitted. Its resonance doesn't count
 * @returns resistor (Ω), capacitor (F), fragment and working
 * @throws DividingNetworkError `invalid-argument`, `invalid-quantity`, `unknown-option`; `not-realizable` for a lossy coil, `undetermined`
 *   where a driver shows no inductance, or its measurement no peak
 * @example
 * ```ts
 * import { zobel } from "dividing-network/alignments";
 *
 * zobel({ re: "6 Ω", le: "0.5 mH" }).c; // 0.0000138889
 * ```
 */
export function zobel(driver: { readonly re: Resistance; readonly le: Inductance } | GivenDriver): Zobel {
  const { re, le } = coilOf(driver);
  const Re = checkLoad("zobel", "re", re);
  const Le = inSi("zobel", "le", le, "H", { min: 1e-12, max: 1e3 });
  const steps = startWorking();
  const source = "derived here: the branch dual to Re and Le, so that both together are Re";
  const r = steps.step("R", "Ω", { formula: "Re", tex: "R = R_e", source }, { Re: [Re, "Ω"] }, (v) => v.Re);
  const c = steps.step(
    "C",
    "F",
    { formula: "Le / Re²", tex: "C = \\frac{L_e}{R_e^2}", source },
    { Le: [Le, "H"], Re: [Re, "Ω"] },
    (v) => v.Le / v.Re ** 2,
  );
  return Object.freeze({
    r,
    c,
    branch: placedBranch<SeriesRc>("zobel.branch", { R1: [resistor(r), "from", "R1.a"], C1: [capacitor(c), "R1.a", "to"] }),
    working: steps.done(),
  });
}

/** Re and Le of what was given: plain options, or a driver whose coil is an inductance. */
function coilOf(driver: { readonly re: Resistance; readonly le: Inductance } | GivenDriver): {
  readonly re: Resistance;
  readonly le: Inductance;
} {
  const given = driverOptionsOf("zobel", driver, "inductance");
  if (given === driver) return checkOptions("zobel", driver, ["re", "le"]);
  const { re, le, re2, k } = given as DriverOptions;
  if (re2 !== undefined || k !== undefined) {
    throw new DividingNetworkError(
      "not-realizable",
      'zobel: "driver" must have a coil that is an inductance, got a lossy one',
      'Use lossyZobel for it, or fit the measurement with driverParameters(impedance, { coil: "inductance" })',
    );
  }
  if (le === undefined)
    throw new DividingNetworkError(
      "undetermined",
      'zobel: "driver" must have an inductance, got one whose impedance shows none',
      "Without one it needs no Zobel network; measure higher in frequency",
    );
  return { re, le };
}
