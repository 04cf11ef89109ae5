import { checkOptions } from "../errors";
import { capacitor, resistor, type Capacitor, type Resistor } from "../parts";
import { inSi, startWorking, type Inductance, type Resistance, type Working } from "../quantity";
import type { Branch } from "./branch";
import { checkLoad } from "./check-filter";
import { placedBranch } from "./placed";

/** A resistor and a capacitor in series, between the branch's nodes. */
export interface SeriesRc {
  readonly R1: readonly [Resistor, "from", "R1.a"];
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
  readonly working: Working;
}

/**
 * The Zobel network (Ω, F) of a driver whose impedance is $R_e + sL_e$: $R = R_e$ in series with $C = L_e/R_e^2$,
 * across the driver. Both together are $R_e$ at every frequency, as the two branches are each other's duals. A real
 * voice coil is lossy: see `lossyZobel`.
 *
 * @param options `re` in Ω, `le` in H, both above 0
 * @returns resistor (Ω), capacitor (F), fragment and working
 * @throws DividingNetworkError `invalid-argument`, `invalid-quantity`, `unknown-option`
 * @example
 * ```ts
 * import { zobel } from "dividing-network/alignments";
 *
 * zobel({ re: "6 Ω", le: "0.5 mH" }).c; // 0.0000138889
 * ```
 */
export function zobel(options: { readonly re: Resistance; readonly le: Inductance }): Zobel {
  const { re, le } = checkOptions("zobel", options, ["re", "le"]);
  const Re = checkLoad("zobel", "re", re);
  const Le = inSi("zobel", "le", le, "H", { min: 1e-12, max: 1e3 });
  const steps = startWorking();
  const source = "dual branches, as in textbooks";
  const r = steps.step("R", "Ω", { formula: "Re", tex: "R = R_e", source }, { Re: [Re, "Ω"] }, (v) => v.Re);
  const c = steps.step(
    "C",
    "F",
    { formula: "Le / Re²", tex: "C = \\frac{L_e}{R_e^2}", source },
    { Le: [Le, "H"], Re: [Re, "Ω"] },
    (v) => v.Le / v.Re ** 2,
  );
  return Object.freeze({ r, c, branch: placedBranch<SeriesRc>("zobel.branch", { R1: [resistor(r), "from", "R1.a"], C1: [capacitor(c), "R1.a", "to"] }), working: steps.done() });
}
