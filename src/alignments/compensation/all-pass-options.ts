import { DividingNetworkError } from "../../errors";
import { checkNumber, checkOptions } from "../../errors/internal";
import type { Branch, BranchNodes } from "../branch";
import type { Frequency, Resistance, Time, Working, WorkingBuilder } from "../../quantity";
import { inSi } from "../../quantity/internal";
import type { TransferFunction } from "../../response";
import { allPassFilter } from "../filters/all-pass-filter";
import { checkFrequency, checkLoad } from "../filters/check-filter";

/** An all-pass section that delays. */
export interface AllPassOptions {
  /** Hz: where the phase is −90° (first order) or −180° (second order). Or give `delay`. */
  readonly frequency?: Frequency | undefined;
  /** s: delay at low frequencies, in place of `frequency`. */
  readonly delay?: Time | undefined;
  /** Q of the second order, dimensionless; left out, the section is of first order. */
  readonly q?: number | undefined;
  /** Ω */
  readonly load: Resistance;
}

/** An all-pass section as parts; `S` is how they are connected, `M` the nodes that its branch takes. */
export interface AllPassNetwork<S extends object, M extends object = BranchNodes> {
  /** H, F and coupling factor (K1, dimensionless) by designator. */
  readonly parts: Readonly<Record<string, number>>;
  /** V at the load per V at the input. */
  readonly transfer: TransferFunction;
  /** s: delay at low frequencies. */
  readonly delay: number;
  /** The section between its nodes, without the load, as a fragment for `join`. */
  readonly branch: Branch<S, M>;
  /** How each number came about. */
  readonly working: Working;
}

/** Where the arms of a lattice come from. */
export const source = "derived here: a lattice of dual arms shows its load's resistance";

/** The arms of a second-order lattice: La ∥ Ca and Lb + Cb. */
export function latticeArms(steps: WorkingBuilder, f: number, Q: number, R: number) {
  const inputs = { R: [R, "Ω"], Q: [Q, ""], f: [f, "Hz"] } as const;
  return {
    la: steps.step(
      "La",
      "H",
      { formula: "R / (Q 2πf)", tex: "L_a = \\frac{R}{Q\\,2\\pi f}", source },
      inputs,
      (v) => v.R / (v.Q * 2 * Math.PI * v.f),
    ),
    ca: steps.step(
      "Ca",
      "F",
      { formula: "Q / (2πf R)", tex: "C_a = \\frac{Q}{2\\pi f R}", source },
      inputs,
      (v) => v.Q / (2 * Math.PI * v.f * v.R),
    ),
    lb: steps.step(
      "Lb",
      "H",
      { formula: "Q R / (2πf)", tex: "L_b = \\frac{Q R}{2\\pi f}", source },
      inputs,
      (v) => (v.Q * v.R) / (2 * Math.PI * v.f),
    ),
    cb: steps.step(
      "Cb",
      "F",
      { formula: "1 / (Q 2πf R)", tex: "C_b = \\frac{1}{Q\\,2\\pi f R}", source },
      inputs,
      (v) => 1 / (v.Q * 2 * Math.PI * v.f * v.R),
    ),
  };
}

/** What all sections share. */
export function allPassBehaviour(f: number, Q: number | undefined) {
  return {
    transfer: allPassFilter(Q === undefined ? { frequency: f } : { frequency: f, q: Q }),
    delay: Q === undefined ? 1 / (Math.PI * f) : 1 / (Math.PI * f * Q),
  };
}

/** Checks the options of a section. */
export function checkAllPass(
  caller: string,
  options: AllPassOptions,
): { readonly f: number; readonly Q: number | undefined; readonly R: number } {
  const given = checkOptions(caller, options, ["frequency", "delay", "q", "load"]);
  if ((given.frequency === undefined) === (given.delay === undefined)) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: give "frequency" or "delay", got ${given.delay === undefined ? "neither" : "both"}`,
    );
  }
  const Q = given.q === undefined ? undefined : checkNumber(caller, "q", given.q, { min: 0.01, max: 100 });
  // Delay at low frequencies: 2/ω₀, or 2/(Qω₀).
  const f =
    given.delay === undefined
      ? checkFrequency(caller, "frequency", given.frequency)
      : 1 / (Math.PI * (Q ?? 1) * inSi(caller, "delay", given.delay, "s", { min: 1e-7, max: 1 }));
  return { f, Q, R: checkLoad(caller, "load", given.load) };
}
