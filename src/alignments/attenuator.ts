import { checkNumber, checkOptions } from "../errors";
import type { Network } from "../network";
import { resistor } from "../parts";
import { startWorking, type Resistance, type Working } from "../quantity";
import type { BranchNodes } from "./branch";
import { checkLoad } from "./check-filter";
import { placedBranch } from "./placed";

/** An L-pad for a load. */
export interface Attenuator {
  /** Ω, in series. */
  readonly rs: number;
  /** Ω, across the load; undefined at 0 dB, where there is none. */
  readonly rp: number | undefined;
  /** Ω: what the load sees looking back at an ideal source; it raises the driver's Q. */
  readonly outputResistance: number;
  /** The pad between two nodes, without the load. */
  readonly branch: (nodes: BranchNodes) => Network;
  readonly working: Working;
}

const source = "standard attenuator theory";

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
  const k = steps.step(
    "k",
    "",
    { formula: "10^(A/20)", tex: "k = 10^{A/20}", source: "definition of the decibel" },
    { A: [A, "dB"] },
    (v) => 10 ** (v.A / 20),
  );
  const inputs = { R: [R, "Ω"], k: [k, ""] } as const;
  const rs = steps.step("Rs", "Ω", { formula: "R (1 − 1/k)", tex: "R_s = R(1 - 1/k)", source }, inputs, (v) => v.R * (1 - 1 / v.k));
  const rp = A === 0 ? undefined : steps.step(
    "Rp",
    "Ω",
    { formula: "R / (k − 1)", tex: "R_p = \\frac{R}{k - 1}", source },
    inputs,
    (v) => v.R / (v.k - 1),
  );
  const shunt = rp === undefined ? [] : [["R2", resistor(rp), "to", "ground"] as const];
  return Object.freeze({
    rs,
    rp,
    outputResistance: rp === undefined ? 0 : (rs * rp) / (rs + rp),
    branch: placedBranch("attenuator.branch", [["R1", resistor(rs), "from", "to"], ...shunt]),
    working: steps.done(),
  });
}
