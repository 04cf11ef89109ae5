import { DividingNetworkError } from "../../errors";
import { capacitor, coupling, inductor, type Capacitor, type Coupling, type Inductor } from "../../parts";
import { startWorking } from "../../quantity";
import { allPassBehaviour, checkAllPass, latticeArms, type AllPassNetwork, type AllPassOptions } from "./all-pass-options";
import { placedBranch, type Placements } from "./placed";

/** The parts of a bridged-T section: with coupled coils for Q below 1, with a third coil otherwise. */
export interface BridgedTeeShape {
  /** The first half of the bridged coil. */
  readonly L1: readonly [Inductor, "from", "L1.a"];
  /** The second half of the bridged coil. */
  readonly L2: readonly [Inductor, "L1.a", "to"];
  /** Below Q = 1: the coupling of the halves. */
  readonly K1?: readonly [Coupling, "L1", "L2"];
  /** The bridge from input to output. */
  readonly C1: readonly [Capacitor, "from", "to"];
  /** From Q = 1 on: in series with `C2`. */
  readonly L3?: readonly [Inductor, "L1.a", "L1.b"];
  /** From the middle of the coil, or from `L3`, to the return. */
  readonly C2: readonly [Capacitor, "L1.a" | "L1.b", "ground"];
}

/**
 * A bridged-T (unbalanced) all-pass section (H, F) of second order into a resistive load, with a common return: two
 * coils in series, a capacitor bridging them, and a circuit from their middle to the return. By bisection it equals the
 * lattice of arms $Z_a$, $Z_b$: bridge $C_a/2$, coils $L_a$, and in shunt $\frac{L_b - L_a}{2}$ with $2C_b$. For Q < 1
 * that shunt coil would be negative; then the two coils are wound on one former, each $\frac{L_a + L_b}{2}$, aiding,
 * with a coupling factor of $\frac{1 - Q^2}{1 + Q^2}$. A first-order section would need complete coupling, so there is
 * none: use the lattice.
 *
 * @param options `frequency` (Hz) or `delay` (s); `q` (dimensionless); `load` (Ω)
 * @returns parts (H, F, coupling factor), transfer function, delay (s), fragment and working
 * @throws DividingNetworkError `not-realizable` without `q`; `invalid-argument`, `invalid-quantity`, `unknown-option`
 * @example
 * ```ts
 * import { bridgedTee } from "dividing-network/alignments";
 *
 * bridgedTee({ frequency: 1000, q: 0.5, load: 8 }).parts.K1; // 0.6
 * ```
 */
export function bridgedTee(options: AllPassOptions): AllPassNetwork<BridgedTeeShape> {
  const caller = "bridgedTee";
  const { f, Q, R } = checkAllPass(caller, options);
  if (Q === undefined) {
    throw new DividingNetworkError(
      "not-realizable",
      `${caller}: a first-order section with a common return needs two coils that are coupled completely, which no winding has`,
      "Use allPassLattice, or state q for a second-order section",
    );
  }
  const steps = startWorking();
  const { la, ca, lb, cb } = latticeArms(steps, f, Q, R);
  const bridge = steps.step(
    "C1",
    "F",
    { formula: "Ca / 2", tex: "C_1 = \\frac{C_a}{2}", source: "derived here: bisection of the lattice" },
    { Ca: [ca, "F"] },
    (v) => v.Ca / 2,
  );
  const shunt = steps.step(
    "C2",
    "F",
    { formula: "2 Cb", tex: "C_2 = 2 C_b", source: "derived here: bisection of the lattice" },
    { Cb: [cb, "F"] },
    (v) => 2 * v.Cb,
  );
  const inputs = { La: [la, "H"], Lb: [lb, "H"] } as const;
  const parts: Record<string, number> = { C1: bridge, C2: shunt };
  let placements: Placements<BridgedTeeShape>;
  if (Q < 1) {
    const coil = steps.step(
      "L1",
      "H",
      {
        formula: "(La + Lb) / 2",
        tex: "L_1 = L_2 = \\frac{L_a + L_b}{2}",
        source: "derived here: coupled coils as a T of coils",
        note: "L2 is the same",
      },
      inputs,
      (v) => (v.La + v.Lb) / 2,
    );
    const k = steps.step(
      "K1",
      "",
      {
        formula: "(1 − Q)(1 + Q) / (1 + Q²)",
        tex: "k = \\frac{(1 - Q)(1 + Q)}{1 + Q^2}",
        source: "derived here: coupled coils as a T of coils",
      },
      { Q: [Q, ""] },
      (v) => ((1 - v.Q) * (1 + v.Q)) / (1 + v.Q ** 2),
    );
    Object.assign(parts, { L1: coil, L2: coil, K1: k });
    placements = {
      L1: [inductor(coil), "from", "L1.a"],
      L2: [inductor(coil), "L1.a", "to"],
      K1: [coupling(k), "L1", "L2"],
      C1: [capacitor(bridge), "from", "to"],
      C2: [capacitor(shunt), "L1.a", "ground"],
    };
  } else {
    const third = steps.step(
      "L3",
      "H",
      {
        formula: "(Q − 1)(Q + 1) La / 2",
        tex: "L_3 = \\frac{L_b - L_a}{2} = \\frac{(Q - 1)(Q + 1)}{2} L_a",
        source: "derived here: bisection of the lattice",
      },
      { Q: [Q, ""], La: [la, "H"] },
      (v) => ((v.Q - 1) * (v.Q + 1) * v.La) / 2,
    );
    Object.assign(parts, { L1: la, L2: la, L3: third });
    placements = {
      L1: [inductor(la), "from", "L1.a"],
      L2: [inductor(la), "L1.a", "to"],
      C1: [capacitor(bridge), "from", "to"],
      L3: [inductor(third), "L1.a", "L1.b"],
      C2: [capacitor(shunt), "L1.b", "ground"],
    };
  }
  return Object.freeze({
    parts: Object.freeze(parts),
    ...allPassBehaviour(f, Q),
    branch: placedBranch<BridgedTeeShape>(`${caller}.branch`, placements),
    working: steps.done(),
  });
}
