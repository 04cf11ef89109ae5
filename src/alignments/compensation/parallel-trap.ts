import { checkNumber, checkOptions } from "../../errors/internal";
import { capacitor, inductor, resistor, type Capacitor, type Inductor, type Resistor } from "../../parts";
import { startWorking, type Frequency, type Resistance, type Working } from "../../quantity";
import { inSi } from "../../quantity/internal";
import type { Branch } from "../branch";
import { checkFrequency, checkLoad } from "../filters/check-filter";
import { excessStep } from "./excess-step";
import { placedBranch } from "./placed";

/** A resistor, a coil and a capacitor side by side between the branch's nodes. */
export interface ParallelRlc {
  /** `r`, across the other two. */
  readonly R1: readonly [Resistor, "from", "to"];
  /** `l`, across the other two. */
  readonly L1: readonly [Inductor, "from", "to"];
  /** `c`, across the other two. */
  readonly C1: readonly [Capacitor, "from", "to"];
}

/** A notch of one resistor, one coil and one capacitor; `S` is how they are connected. */
export interface Notch<S extends object> {
  /** Ω */
  readonly r: number;
  /** H */
  readonly l: number;
  /** F */
  readonly c: number;
  /** Hz: between the two frequencies at which the notch is half as deep in dB. */
  readonly halfDepthBandwidth: number;
  /** The three parts between two nodes, as a fragment for `join`. */
  readonly branch: Branch<S>;
  /** How each number came about. */
  readonly working: Working;
}

/** A notch by its centre, depth and width. */
export interface NotchOptions {
  /** dB, above 0: how far the level falls at the centre. */
  readonly depthDb: number;
  /** Hz: the centre. */
  readonly frequency: Frequency;
  /**
   * Hz: −3 dB width of the resonant circuit's own impedance or admittance, f₀/Q; √k of it is the width at half depth, k
   * = 10^(depth/20).
   */
  readonly bandwidth: Frequency;
  /** Ω */
  readonly load: Resistance;
}

/**
 * A parallel R–L–C circuit (Ω, H, F) in series with a load: a notch of stated depth and width at $f_0$, as against a
 * broad peak. With $k = 10^{D/20}$: $R_t = R(k - 1)$, $C = \frac{1}{2\pi B R_t}$, $L = \frac{1}{(2\pi f_0)^2 C}$. The
 * load must be resistive there: put a Zobel network across the driver.
 *
 * @param options `depthDb` (dB, above 0, at most 100), `frequency` and `bandwidth` (Hz), `load` (Ω)
 * @returns parts (Ω, H, F), width at half depth (Hz), fragment and working
 * @throws DividingNetworkError `invalid-argument`, `invalid-quantity`, `unknown-option`
 * @example
 * ```ts
 * import { parallelTrap } from "dividing-network/alignments";
 *
 * parallelTrap({ depthDb: 6.0206, frequency: 1000, bandwidth: 500, load: 8 }).c; // 0.0000397887
 * ```
 */
export function parallelTrap(options: NotchOptions): Notch<ParallelRlc> {
  return trap("parallelTrap", options);
}

/**
 * The parallel trap (Ω, H, F) that undoes a resonant peak of the response, such as cone breakup: a peak of height A and
 * quality Q, $\frac{s^2 + s k\omega_0/Q + \omega_0^2}{s^2 + s\omega_0/Q + \omega_0^2}$ with $k = 10^{A/20}$, is divided
 * away exactly by a trap of that depth whose own width is $f_0/Q$.
 *
 * @param options `peakDb` (dB, above 0, at most 100), `frequency` (Hz), `q` (dimensionless, of the peak), `load` (Ω)
 * @returns parts (Ω, H, F), width at half depth (Hz), fragment and working
 * @throws DividingNetworkError `invalid-argument`, `invalid-quantity`, `unknown-option`
 * @example
 * ```ts
 * import { breakupTrap } from "dividing-network/alignments";
 *
 * breakupTrap({ peakDb: 6.0206, frequency: 5000, q: 5, load: 8 }).r; // 8.0000
 * ```
 */
export function breakupTrap(options: {
  readonly peakDb: number;
  readonly frequency: Frequency;
  readonly q: number;
  readonly load: Resistance;
}): Notch<ParallelRlc> {
  const { peakDb, frequency, q, load } = checkOptions("breakupTrap", options, ["peakDb", "frequency", "q", "load"]);
  const f = checkFrequency("breakupTrap", "frequency", frequency);
  checkNumber("breakupTrap", "peakDb", peakDb, { above: 0, max: 100, unit: "dB" });
  return trap("breakupTrap", {
    depthDb: peakDb,
    frequency: f,
    bandwidth: f / checkNumber("breakupTrap", "q", q, { min: 0.01, max: 1000 }),
    load,
  });
}

function trap(caller: string, options: NotchOptions): Notch<ParallelRlc> {
  const { A, f, B, R } = checkNotch(caller, options);
  const steps = startWorking();
  const excess = excessStep(steps, "D", A);
  const source = "derived here: resonance of a coil and a capacitor";
  const r = steps.step(
    "Rt",
    "Ω",
    { formula: "R (k − 1)", tex: "R_t = R(k - 1)", source },
    { R: [R, "Ω"], "k − 1": [excess, ""] },
    (v) => v.R * v["k − 1"],
  );
  const c = steps.step(
    "C",
    "F",
    { formula: "1 / (2π B Rt)", tex: "C = \\frac{1}{2\\pi B R_t}", source },
    { B: [B, "Hz"], Rt: [r, "Ω"] },
    (v) => 1 / (2 * Math.PI * v.B * v.Rt),
  );
  const l = steps.step(
    "L",
    "H",
    { formula: "1 / ((2πf)² C)", tex: "L = \\frac{1}{(2\\pi f)^2 C}", source },
    { f: [f, "Hz"], C: [c, "F"] },
    (v) => 1 / ((2 * Math.PI * v.f) ** 2 * v.C),
  );
  const branch = placedBranch<ParallelRlc>(`${caller}.branch`, {
    R1: [resistor(r), "from", "to"],
    L1: [inductor(l), "from", "to"],
    C1: [capacitor(c), "from", "to"],
  });
  return Object.freeze({ r, l, c, halfDepthBandwidth: B * Math.sqrt(1 + excess), branch, working: steps.done() });
}

/** Checks a notch's options. */
export function checkNotch(caller: string, options: NotchOptions) {
  const given = checkOptions(caller, options, ["depthDb", "frequency", "bandwidth", "load"]);
  const f = checkFrequency(caller, "frequency", given.frequency);
  return {
    A: checkNumber(caller, "depthDb", given.depthDb, { above: 0, max: 100, unit: "dB" }),
    f,
    B: inSi(caller, "bandwidth", given.bandwidth, "Hz", { min: f / 1000, max: f * 100 }),
    R: checkLoad(caller, "load", given.load),
  };
}
