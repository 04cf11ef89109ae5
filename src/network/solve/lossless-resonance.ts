import { GND, IN, type CircuitBranch } from "../circuit";
import type { Elimination } from "./elimination";
import { unionFind } from "../../numeric/internal";
import { branchState } from "../state";

/** A branch that never turns power into heat, between merged nodes; +1 a coil, −1 a capacitor. */
interface Lossless {
  readonly from: number;
  readonly to: number;
  readonly sign: 1 | -1;
  /** A coil whose voltage and current hang on others: neither says that the other is nothing. */
  readonly coupled: boolean;
}

/**
 * Whether a network above 0 Hz may have no solution at some frequency: whether coils and capacitors without any loss can swing among
 * themselves while the source stands still. In such a state no branch with a loss has a voltage or a current, so that what lies
 * across one stands still too, and what hangs by a single branch; and the rest needs both kinds, since coils or capacitors alone
 * have nothing to swing against. Only then must a sweep be solved before it is known whether it can be.
 */
export function mayResonateWithoutLoss({ circuit, coils, rootOf }: Elimination): boolean {
  const coupled = new Set(coils.flatMap(({ branches }) => branches));
  const still = unionFind();
  still.unite(IN, GND);
  let swinging: Lossless[] = [];
  circuit.branches.forEach((branch, index) => {
    const [from, to] = [rootOf[branch.from]!, rootOf[branch.to]!];
    if (from === to || branchState(branch, false) !== "finite") return;
    const sign = coupled.has(index) ? 1 : losslessSign(branch);
    if (sign === 0) still.unite(from, to);
    else swinging.push({ from: from === IN ? GND : from, to: to === IN ? GND : to, sign, coupled: coupled.has(index) });
  });
  for (let before = -1; before !== swinging.length;) {
    before = swinging.length;
    const degree = new Int32Array(rootOf.length);
    for (const { from, to } of swinging) {
      degree[from] = degree[from]! + 1;
      degree[to] = degree[to]! + 1;
    }
    swinging = swinging.filter((branch) => {
      if (branch.coupled) return true;
      const { from, to } = branch;
      const dead = (from !== GND && degree[from] === 1) || (to !== GND && degree[to] === 1);
      if (dead) still.unite(from, to);
      return !dead && still.find(from) !== still.find(to);
    });
  }
  return swinging.some(({ sign }) => sign > 0) && swinging.some(({ sign }) => sign < 0);
}

const quotient = /* @__PURE__ */ new Float64Array(4);

/** 0 for a branch with a loss, and for a measured one. */
function losslessSign({ law, values }: CircuitBranch): 1 | -1 | 0 {
  if (law.parameters.length === 0) return 0;
  law.ratio(values, 0, 1, quotient);
  const [ar, ai, br, bi] = quotient as unknown as readonly [number, number, number, number];
  if (br * ar + bi * ai !== 0) return 0;
  return bi * ar - br * ai > 0 ? 1 : -1;
}
