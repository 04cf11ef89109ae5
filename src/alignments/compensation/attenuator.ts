import { checkNumber, checkOptions } from "../../errors/internal";
import { resistor, type Resistor } from "../../parts";
import { padSeries, padShunt } from "../../parts/internal";
import { startWorking, type Resistance, type Working } from "../../quantity";
import { amplitudeExcess } from "../../quantity/internal";
import type { Branch } from "../branch";
import { checkLoad } from "../filters/check-filter";
import { excessStep } from "./excess-step";
import { placedBranch } from "./placed";

/** The parts of an L-pad; at 0 dB there is none across the load. */
export interface AttenuatorShape {
  /** `rs`, in series with the load. */
  readonly R1: readonly [Resistor, "from", "to"];
  /** `rp`, across the load; absent at 0 dB. */
  readonly R2?: readonly [Resistor, "to", "ground"];
}

/** An L-pad for a load. */
export interface Attenuator {
  /** Ω, in series. */
  readonly rs: number;
  /** Ω, across the load; undefined at 0 dB, where there is none. */
  readonly rp: number | undefined;
  /** Ω: what the load sees looking back at an ideal source; it raises the driver's Q. */
  readonly outputResistance: number;
  /** The pad between two nodes, without the load. */
  readonly branch: Branch<AttenuatorShape>;
  /** How each number came about. */
  readonly working: Working;
}

const source = "derived here: a divider that shows the load's own resistance";

/**
 * The resistors (Ω) of an L-pad, which attenuates a load and leaves the resistance seen from the input as it was:
 * $R_s = R(1 - 1/k)$, $R_p = \frac{R}{k - 1}$, $k = 10^{A/20}$.
 *
 * @param options `attenuationDb`: A in dB, 0 to 200 dB; `load`: R in Ω
 * @returns resistors (Ω), fragment and working
 * @throws DividingNetworkError `invalid-argument`, `invalid-quantity`, `unknown-option`
 * @example
 * ```ts
 * import { attenuator } from "dividing-network/alignments";
 *
 * attenuator({ attenuationDb: 6, load: "8 Ω" }).rp; // 8.0381
 * ```
 */
export function attenuator(options: { readonly attenuationDb: number; readonly load: Resistance }): Attenuator {
  const { attenuationDb, load } = checkOptions("attenuator", options, ["attenuationDb", "load"]);
  const A = checkNumber("attenuator", "attenuationDb", attenuationDb, { min: 0, max: 200, unit: "dB" });
  const R = checkLoad("attenuator", "load", load);
  const steps = startWorking();
  const share = steps.step(
    "1 − 1/k",
    "",
    { formula: "1 − 10^(−A/20)", tex: "1 - 1/k = 1 - 10^{-A/20}", source: "definition of the decibel" },
    { A: [A, "dB"] },
    (v) => -amplitudeExcess(-v.A),
  );
  const rs = steps.step(
    "Rs",
    "Ω",
    { formula: "R (1 − 1/k)", tex: "R_s = R(1 - 1/k)", source },
    { R: [R, "Ω"], "1 − 1/k": [share, ""] },
    (v) => padSeries(v.R, v["1 − 1/k"]),
  );
  // Next to 0 dB the resistance across the load is beyond any number.
  const rp = Number.isFinite(padShunt(R, amplitudeExcess(A)))
    ? steps.step(
        "Rp",
        "Ω",
        { formula: "R / (k − 1)", tex: "R_p = \\frac{R}{k - 1}", source },
        { R: [R, "Ω"], "k − 1": [excessStep(steps, "A", A), ""] },
        (v) => padShunt(v.R, v["k − 1"]),
      )
    : undefined;
  return Object.freeze({
    rs,
    rp,
    outputResistance: rp === undefined ? 0 : (rs * rp) / (rs + rp),
    branch: placedBranch<AttenuatorShape>("attenuator.branch", {
      R1: [resistor(rs), "from", "to"],
      ...(rp === undefined ? {} : { R2: [resistor(rp), "to", "ground"] }),
    }),
    working: steps.done(),
  });
}
