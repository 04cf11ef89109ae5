import { checkOptions } from "../../errors/internal";
import { capacitor, inductor, resistor, type Capacitor, type Inductor, type Resistor } from "../../parts";
import { startWorking, type Resistance } from "../../quantity";
import { checkLoad } from "../filters/check-filter";
import { excessStep } from "./excess-step";
import { checkNotch, type Notch, type NotchOptions } from "./parallel-trap";
import { placedBranch } from "./placed";

/** A resistor, a coil and a capacitor one after the other between the branch's nodes. */
export interface SeriesRlc {
  /** `r`, in series with the other two. */
  readonly R1: readonly [Resistor, "from", "R1.a"];
  /** `l`, in series with the other two. */
  readonly L1: readonly [Inductor, "R1.a", "R1.b"];
  /** `c`, in series with the other two. */
  readonly C1: readonly [Capacitor, "R1.b", "to"];
}

/**
 * A series R–L–C circuit (Ω, H, F) across a load that is fed through a resistance: a notch of stated depth and width.
 * With $k = 10^{D/20}$ and $R_{th} = R \parallel R_s$: $R_t = \frac{R_{th}}{k - 1}$, $L = \frac{R_t}{2\pi B}$,
 * $C = \frac{1}{(2\pi f_0)^2 L}$. From an ideal source it has no effect on the load, and it draws current: the input
 * sees as little as $R_s + R \parallel R_t$ at the centre.
 *
 * @param options `depthDb` (dB, above 0, at most 100), `frequency` and `bandwidth` (Hz), `load` and `sourceResistance`
 *   (Ω)
 * @returns parts (Ω, H, F), width at half depth (Hz), fragment and working
 * @throws DividingNetworkError `invalid-argument`, `invalid-quantity`, `unknown-option`
 * @example
 * ```ts
 * import { shuntNotch } from "dividing-network/alignments";
 *
 * shuntNotch({ depthDb: 6.0206, frequency: 1000, bandwidth: 500, load: 8, sourceResistance: 8 }).r; // 4.0000
 * ```
 */
export function shuntNotch(options: NotchOptions & { readonly sourceResistance: Resistance }): Notch<SeriesRlc> {
  const caller = "shuntNotch";
  const { sourceResistance, ...notch } = checkOptions(caller, options, ["depthDb", "frequency", "bandwidth", "load", "sourceResistance"]);
  const { A, f, B, R } = checkNotch(caller, notch);
  const Rs = checkLoad(caller, "sourceResistance", sourceResistance);
  const steps = startWorking();
  const excess = excessStep(steps, "D", A);
  const source = "derived here: resonance of a coil and a capacitor";
  const Rth = steps.step(
    "Rth",
    "Ω",
    { formula: "R Rs / (R + Rs)", tex: "R_{th} = \\frac{R R_s}{R + R_s}", source: "derived here: resistors in parallel" },
    { R: [R, "Ω"], Rs: [Rs, "Ω"] },
    (v) => (v.R * v.Rs) / (v.R + v.Rs),
  );
  const r = steps.step(
    "Rt",
    "Ω",
    { formula: "Rth / (k − 1)", tex: "R_t = \\frac{R_{th}}{k - 1}", source },
    { Rth: [Rth, "Ω"], "k − 1": [excess, ""] },
    (v) => v.Rth / v["k − 1"],
  );
  const l = steps.step(
    "L",
    "H",
    { formula: "Rt / (2π B)", tex: "L = \\frac{R_t}{2\\pi B}", source },
    { Rt: [r, "Ω"], B: [B, "Hz"] },
    (v) => v.Rt / (2 * Math.PI * v.B),
  );
  const c = steps.step(
    "C",
    "F",
    { formula: "1 / ((2πf)² L)", tex: "C = \\frac{1}{(2\\pi f)^2 L}", source },
    { f: [f, "Hz"], L: [l, "H"] },
    (v) => 1 / ((2 * Math.PI * v.f) ** 2 * v.L),
  );
  const branch = placedBranch<SeriesRlc>(`${caller}.branch`, {
    R1: [resistor(r), "from", "R1.a"],
    L1: [inductor(l), "R1.a", "R1.b"],
    C1: [capacitor(c), "R1.b", "to"],
  });
  return Object.freeze({ r, l, c, halfDepthBandwidth: B * Math.sqrt(1 + excess), branch, working: steps.done() });
}
