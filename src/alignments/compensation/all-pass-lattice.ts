import { DividingNetworkError } from "../../errors";
import { show } from "../../errors/internal";
import { fragment } from "../../network";
import { capacitor, inductor, type Capacitor, type Inductor } from "../../parts";
import { mainOf } from "../../parts/internal";
import { startWorking, type WorkingBuilder } from "../../quantity";
import { allPassBehaviour, checkAllPass, latticeArms, source, type AllPassNetwork, type AllPassOptions } from "./all-pass-options";
import { checkNodes, type Branch } from "../branch";
import { placed, type Placements } from "./placed";

/** Where a lattice goes: it has no common conductor, so that both sides have two nodes. */
export interface LatticeNodes {
  /** The node that the section is fed from. */
  readonly from: string;
  /** Default `"gnd"`. */
  readonly fromReturn?: string | undefined;
  /** The load's first node. */
  readonly to: string;
  /** The load's other node, which must not be `gnd`. */
  readonly toReturn: string;
  /** Put before each designator and inner node; default none. */
  readonly prefix?: string | undefined;
}

/** The parts of a lattice: of first order coils in series and capacitors crossed, of second order two circuits each. */
export interface LatticeShape {
  /** First series arm. */
  readonly L1: readonly [Inductor, "from", "to"];
  /** Series arm of the return. */
  readonly L2: readonly [Inductor, "fromReturn", "toReturn"];
  /** First order: the crossed arm from the input. Second order: in parallel with `L1`. */
  readonly C1: readonly [Capacitor, "from", "to" | "toReturn"];
  /** First order: the crossed arm from the return. Second order: in parallel with `L2`. */
  readonly C2: readonly [Capacitor, "fromReturn", "to" | "toReturn"];
  /** Second order: the crossed arm from the input, in series with `C3`. */
  readonly L3?: readonly [Inductor, "from", "L3.2"];
  /** Second order: in series with `L3`. */
  readonly C3?: readonly [Capacitor, "L3.2", "toReturn"];
  /** Second order: the crossed arm from the return, in series with `C4`. */
  readonly L4?: readonly [Inductor, "fromReturn", "L4.2"];
  /** Second order: in series with `L4`. */
  readonly C4?: readonly [Capacitor, "L4.2", "to"];
}

/**
 * A lattice (balanced) all-pass section (H, F) of first or second order into a resistive load: it delays and leaves
 * level and input resistance as they are. Its series arms $Z_a$ and its crossed arms $R^2/Z_a$ give
 * $\frac{R - Z_a}{R + Z_a}$: first order $Z_a = sL$ with $L = R/\omega_0$; second order $Z_a$ a parallel circuit of
 * $L_a = \frac{R}{Q\omega_0}$ and $C_a = \frac{Q}{R\omega_0}$. The load floats: neither of its nodes is the input's
 * return.
 *
 * @param options `frequency` (Hz) or `delay` (s); `q` (dimensionless); `load` (Ω)
 * @returns parts (H, F), transfer function, delay (s), fragment and working
 * @throws DividingNetworkError `invalid-argument`, `invalid-quantity`, `unknown-option`
 * @example
 * ```ts
 * import { allPassLattice } from "dividing-network/alignments";
 *
 * allPassLattice({ frequency: 1000, load: 8 }).parts.L1; // 0.00127324
 * ```
 */
export function allPassLattice(options: AllPassOptions): AllPassNetwork<LatticeShape, LatticeNodes> {
  const caller = "allPassLattice";
  const { f, Q, R } = checkAllPass(caller, options);
  const steps = startWorking();
  const place = Q === undefined ? firstOrder(steps, f, R) : secondOrder(steps, f, Q, R);
  return Object.freeze({
    parts: Object.freeze(
      Object.fromEntries(
        Object.entries(place).map(([name, [part]]: [string, readonly [Inductor | Capacitor, ...string[]]]) => [name, mainOf(part)!.value]),
      ),
    ),
    ...allPassBehaviour(f, Q),
    branch: ((nodes: LatticeNodes) => {
      const {
        from,
        to,
        ground: fromReturn,
        prefix,
      } = checkNodes(`${caller}.branch`, {
        from: nodes?.from,
        to: nodes?.to,
        ground: nodes?.fromReturn,
        prefix: nodes?.prefix,
      });
      const toReturn = nodes.toReturn;
      if (typeof toReturn !== "string" || toReturn === "" || [from, to, fromReturn].includes(toReturn)) {
        throw new DividingNetworkError(
          "invalid-argument",
          `${caller}.branch: "toReturn" must be a node of its own, got ${show(toReturn)}`,
          "The load of a lattice floats; bridgedTee has a common return",
        );
      }
      return fragment(placed(place, prefix, { from, to, fromReturn, toReturn }));
    }) as Branch<LatticeShape, LatticeNodes>,
    working: steps.done(),
  });
}

function firstOrder(steps: WorkingBuilder, f: number, R: number): Placements<LatticeShape> {
  const inputs = { R: [R, "Ω"], f: [f, "Hz"] } as const;
  const l = steps.step("L", "H", { formula: "R / (2πf)", tex: "L = \\frac{R}{2\\pi f}", source }, inputs, (v) => v.R / (2 * Math.PI * v.f));
  const c = steps.step(
    "C",
    "F",
    { formula: "1 / (2πf R)", tex: "C = \\frac{1}{2\\pi f R}", source },
    inputs,
    (v) => 1 / (2 * Math.PI * v.f * v.R),
  );
  return {
    L1: [inductor(l), "from", "to"],
    L2: [inductor(l), "fromReturn", "toReturn"],
    C1: [capacitor(c), "from", "toReturn"],
    C2: [capacitor(c), "fromReturn", "to"],
  };
}

function secondOrder(steps: WorkingBuilder, f: number, Q: number, R: number): Placements<LatticeShape> {
  const { la, ca, lb, cb } = latticeArms(steps, f, Q, R);
  return {
    L1: [inductor(la), "from", "to"],
    C1: [capacitor(ca), "from", "to"],
    L2: [inductor(la), "fromReturn", "toReturn"],
    C2: [capacitor(ca), "fromReturn", "toReturn"],
    L3: [inductor(lb), "from", "L3.2"],
    C3: [capacitor(cb), "L3.2", "toReturn"],
    L4: [inductor(lb), "fromReturn", "L4.2"],
    C4: [capacitor(cb), "L4.2", "to"],
  };
}
