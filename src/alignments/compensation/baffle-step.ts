import { DividingNetworkError } from "../../errors";
import { checkNumber, checkOptions } from "../../errors/internal";
import { inductor, resistor, type Inductor, type Resistor } from "../../parts";
import { startWorking, type Frequency, type Length, type Resistance, type Working } from "../../quantity";
import { inSi } from "../../quantity/internal";
import type { Branch } from "../branch";
import { checkFrequency, checkLoad } from "../filters/check-filter";
import { excessStep } from "./excess-step";
import { placedBranch } from "./placed";

/** A resistor and a coil side by side between the branch's nodes. */
export interface ParallelRl {
  /** The resistor, across the coil. */
  readonly R1: readonly [Resistor, "from", "to"];
  /** The coil, across the resistor. */
  readonly L1: readonly [Inductor, "from", "to"];
}

/** A shelf: a coil and a resistor in parallel, in series with a load. */
export interface BaffleStep {
  /** Ω */
  readonly r: number;
  /** H */
  readonly l: number;
  /** Hz: where half of the step, in dB, is reached. */
  readonly frequency: number;
  /** Both parts side by side, in series with the driver. */
  readonly branch: Branch<ParallelRl>;
  /** How each number came about. */
  readonly working: Working;
}

/**
 * A shelf (Ω, H) against the step of a baffle's diffraction, of up to 6 dB: a coil with a resistor across it, in series
 * with the load. Low frequencies pass unchanged, high ones are attenuated by the step: with $k = 10^{A/20}$,
 * $R_s = R(k - 1)$, $L = \frac{R_s}{2\pi f_m\sqrt{k}}$, where $f_m$ is the frequency of half the step. From the
 * baffle's width, the rule of thumb $f_m = \frac{115\,\mathrm{m/s}}{w}$ is used (a third of the speed of sound over the
 * width, after Olson's spheres (1951), cited from memory; a rigid sphere of that width has gained 3.2 dB there): a start,
 * not a substitute for the diffraction of the cabinet.
 *
 * @param options `stepDb` (dB, above 0, at most 20); `frequency` (Hz) or `width` (m) of the baffle; `load` (Ω)
 * @returns parts (Ω, H), frequency (Hz), fragment and working
 * @throws DividingNetworkError `invalid-argument`, `invalid-quantity`, `unknown-option`
 * @example
 * ```ts
 * import { baffleStep } from "dividing-network/alignments";
 *
 * const shelf = baffleStep({ stepDb: 6, width: "230 mm", load: "8 Ω" });
 * shelf.frequency; // 500
 * shelf.r; // 7.962
 * ```
 */
export function baffleStep(
  options: { readonly stepDb: number; readonly load: Resistance } & ({ readonly frequency: Frequency } | { readonly width: Length }),
): BaffleStep {
  const caller = "baffleStep";
  const given: { stepDb: number; load: Resistance; frequency?: Frequency; width?: Length } = checkOptions(caller, options, [
    "stepDb",
    "frequency",
    "width",
    "load",
  ]);
  if ((given.frequency === undefined) === (given.width === undefined)) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: give "frequency" or "width", got ${given.width === undefined ? "neither" : "both"}`,
    );
  }
  const A = checkNumber(caller, "stepDb", given.stepDb, { above: 0, max: 20, unit: "dB" });
  const R = checkLoad(caller, "load", given.load);
  const steps = startWorking();
  const f =
    given.frequency === undefined
      ? steps.step(
          "fm",
          "Hz",
          { formula: "115 / w", tex: "f_m = \\frac{115}{w}", source: "rule of thumb after Olson (1951)" },
          { w: [inSi(caller, "width", given.width, "m", { min: 0.01, max: 10 }), "m"] },
          (v) => 115 / v.w,
        )
      : checkFrequency(caller, "frequency", given.frequency);
  const k = steps.step(
    "k",
    "",
    { formula: "10^(A/20)", tex: "k = 10^{A/20}", source: "definition of the decibel" },
    { A: [A, "dB"] },
    (v) => 10 ** (v.A / 20),
  );
  const source = "derived here: shelf of one zero and one pole";
  const r = steps.step(
    "Rs",
    "Ω",
    { formula: "R (k − 1)", tex: "R_s = R(k - 1)", source },
    { R: [R, "Ω"], "k − 1": [excessStep(steps, "A", A), ""] },
    (v) => v.R * v["k − 1"],
  );
  const l = steps.step(
    "L",
    "H",
    { formula: "Rs / (2π fm √k)", tex: "L = \\frac{R_s}{2\\pi f_m \\sqrt{k}}", source },
    { Rs: [r, "Ω"], fm: [f, "Hz"], k: [k, ""] },
    (v) => v.Rs / (2 * Math.PI * v.fm * Math.sqrt(v.k)),
  );
  return Object.freeze({
    r,
    l,
    frequency: f,
    branch: placedBranch<ParallelRl>(`${caller}.branch`, { R1: [resistor(r), "from", "to"], L1: [inductor(l), "from", "to"] }),
    working: steps.done(),
  });
}
