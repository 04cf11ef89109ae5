import { DividingNetworkError } from "../../errors";
import { GND, IN, type Circuit } from "../circuit";
import type { Elimination } from "./elimination";
import { branchState } from "../state";

/**
 * The current of a branch of 0 Ω by Kirchhoff's law: removing it splits its group of merged nodes in two, and what
 * flows out of one half through everything else must have come through it. Returns, for the half that doesn't hold
 * `gnd`: the other branches' signs and whether the source feeds it.
 */
export interface Cut {
  /** Branch index and +1 when its current leaves the half, −1 when it enters. */
  readonly branches: readonly (readonly [branch: number, sign: 1 | -1])[];
  readonly transformers: readonly (readonly [transformer: number, winding: "primary" | "secondary", sign: 1 | -1])[];
  /** The source's current enters this half. */
  readonly source: boolean;
  /** +1 when the branch's `to` is in the half: its current is what leaves the half; −1 otherwise. */
  readonly sign: 1 | -1;
}

export function cutAt(branch: number, { circuit, zeroFrequency }: Elimination): Cut {
  const { from, to, part } = circuit.branches[branch]!;
  const reach = (start: number): Set<number> => {
    const found = new Set([start]);
    for (const node of found) {
      circuit.branches.forEach((other, index) => {
        if (index === branch || branchState(other, zeroFrequency) !== "short") return;
        if (other.from === node) found.add(other.to);
        if (other.to === node) found.add(other.from);
      });
    }
    return found;
  };
  const ahead = reach(to);
  if (ahead.has(from)) {
    throw new DividingNetworkError(
      "indeterminate-current",
      `solve: the current of "${part}" can't be told: other connections of 0 Ω bridge it`,
      `Give "${part}" or its neighbours their resistance`,
    );
  }
  const [half, sign] = ahead.has(GND) ? [reach(from), -1 as const] : [ahead, 1 as const];
  return { ...crossing(circuit, half, branch, zeroFrequency), source: half.has(IN), sign };
}

function crossing(
  circuit: Circuit,
  half: ReadonlySet<number>,
  except: number,
  zeroFrequency: boolean,
): Pick<Cut, "branches" | "transformers"> {
  const branches: [number, 1 | -1][] = [];
  circuit.branches.forEach((other, index) => {
    if (index === except || half.has(other.from) === half.has(other.to)) return;
    if (branchState(other, zeroFrequency) === "short") return;
    branches.push([index, half.has(other.from) ? 1 : -1]);
  });
  const transformers: [number, "primary" | "secondary", 1 | -1][] = [];
  circuit.transformers.forEach((transformer, index) => {
    for (const winding of ["primary", "secondary"] as const) {
      const [first, second] = transformer[winding];
      if (half.has(first) !== half.has(second)) transformers.push([index, winding, half.has(first) ? 1 : -1]);
    }
  });
  return { branches, transformers };
}
