import { checkNumber, checkOptions } from "../../errors/internal";
import { resistor } from "../../parts";
import { startWorking, type Resistance, type Working } from "../../quantity";
import type { Branch } from "../branch";
import { checkLoad } from "../filters/check-filter";
import { excessStep } from "./excess-step";
import { placedBranch } from "./placed";
import type { OneResistor } from "./series-attenuator";

/** A resistor across a load. */
export interface ShuntAttenuator {
  /** Ω */
  readonly rp: number;
  /** Ω: load and resistor in parallel, what the source resistance now feeds. */
  readonly inputResistance: number;
  /** The resistor, across the load. */
  readonly branch: Branch<OneResistor>;
  /** How each number came about. */
  readonly working: Working;
}

/**
 * A resistor (Ω) across a load alone, which attenuates only by what the source resistance before it lets through: with
 * $k = 10^{A/20}$, $R_p = \frac{R R_s}{(k - 1)(R + R_s)}$. Side effects: the source is loaded with less than R; a
 * network before it sees $R \parallel R_p$, so that its corner and damping change. From an ideal source it does nothing
 * but heat.
 *
 * @param options `attenuationDb`: A in dB, above 0, at most 200 dB; `load`: R in Ω; `sourceResistance`: $R_s$ in Ω
 * @returns resistor (Ω), side effect (Ω), fragment and working
 * @throws DividingNetworkError `invalid-argument`, `invalid-quantity`, `unknown-option`
 * @example
 * ```ts
 * import { shuntAttenuator } from "dividing-network/alignments";
 *
 * shuntAttenuator({ attenuationDb: 6.0206, load: 8, sourceResistance: 8 }).rp; // 4.0000
 * ```
 */
export function shuntAttenuator(options: {
  readonly attenuationDb: number;
  readonly load: Resistance;
  readonly sourceResistance: Resistance;
}): ShuntAttenuator {
  const { attenuationDb, load, sourceResistance } = checkOptions("shuntAttenuator", options, ["attenuationDb", "load", "sourceResistance"]);
  const A = checkNumber("shuntAttenuator", "attenuationDb", attenuationDb, { above: 0, max: 200, unit: "dB" });
  const R = checkLoad("shuntAttenuator", "load", load);
  const Rs = checkLoad("shuntAttenuator", "sourceResistance", sourceResistance);
  const steps = startWorking();
  const excess = excessStep(steps, "A", A);
  const text = {
    formula: "R Rs / ((k − 1)(R + Rs))",
    tex: "R_p = \\frac{R R_s}{(k - 1)(R + R_s)}",
    source: "derived here: voltage divider",
  };
  const rp = steps.step(
    "Rp",
    "Ω",
    text,
    { R: [R, "Ω"], Rs: [Rs, "Ω"], "k − 1": [excess, ""] },
    (v) => (v.R * v.Rs) / (v["k − 1"] * (v.R + v.Rs)),
  );
  return Object.freeze({
    rp,
    inputResistance: (R * rp) / (R + rp),
    branch: placedBranch<OneResistor>("shuntAttenuator.branch", { R1: [resistor(rp), "from", "to"] }),
    working: steps.done(),
  });
}
