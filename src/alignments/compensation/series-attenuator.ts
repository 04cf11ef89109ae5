import { checkNumber, checkOptions } from "../../errors/internal";
import { resistor, type Resistor } from "../../parts";
import { startWorking, type Resistance, type Working } from "../../quantity";
import type { Branch } from "../branch";
import { checkLoad } from "../filters/check-filter";
import { excessStep } from "./excess-step";
import { placedBranch } from "./placed";

/** One resistor between the branch's nodes. */
export interface OneResistor {
  /** The resistor. */
  readonly R1: readonly [Resistor, "from", "to"];
}

/** A resistor in series with a load. */
export interface SeriesAttenuator {
  /** Ω */
  readonly rs: number;
  /** Ω: what the network before it sees, k times the load. */
  readonly inputResistance: number;
  /** Ω: what the load sees looking back at an ideal source: the resistor itself. */
  readonly outputResistance: number;
  /** The resistor, in series with the load. */
  readonly branch: Branch<OneResistor>;
  /** How each number came about. */
  readonly working: Working;
}

/**
 * A resistor (Ω) in series alone: $R_s = R(k - 1)$, $k = 10^{A/20}$. Side effects: a network before it sees $kR$ in
 * place of R, so that its corner and damping change unless it is made for that; and the load sees $R_s$, so that where
 * the driver's impedance rises (resonance, voice coil) the attenuation shrinks.
 *
 * @param options `attenuationDb`: A in dB, 0 to 200 dB; `load`: R in Ω
 * @returns resistor (Ω), side effects (Ω), fragment and working
 * @throws DividingNetworkError `invalid-argument`, `invalid-quantity`, `unknown-option`
 * @example
 * ```ts
 * import { seriesAttenuator } from "dividing-network/alignments";
 *
 * seriesAttenuator({ attenuationDb: 6.0206, load: 8 }).rs; // 8.0000
 * ```
 */
export function seriesAttenuator(options: { readonly attenuationDb: number; readonly load: Resistance }): SeriesAttenuator {
  const { attenuationDb, load } = checkOptions("seriesAttenuator", options, ["attenuationDb", "load"]);
  const A = checkNumber("seriesAttenuator", "attenuationDb", attenuationDb, { min: 0, max: 200, unit: "dB" });
  const R = checkLoad("seriesAttenuator", "load", load);
  const steps = startWorking();
  const excess = excessStep(steps, "A", A);
  const rs = steps.step(
    "Rs",
    "Ω",
    { formula: "R (k − 1)", tex: "R_s = R(k - 1)", source: "derived here: voltage divider" },
    { R: [R, "Ω"], "k − 1": [excess, ""] },
    (v) => v.R * v["k − 1"],
  );
  return Object.freeze({
    rs,
    inputResistance: R + rs,
    outputResistance: rs,
    branch: placedBranch<OneResistor>("seriesAttenuator.branch", { R1: [resistor(rs), "from", "to"] }),
    working: steps.done(),
  });
}
