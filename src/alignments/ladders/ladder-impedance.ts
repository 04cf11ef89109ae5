import { checkNumber } from "../../errors/internal";
import type { FrequencyResponse } from "../../response";
import { checkedGrid, freezeResponse } from "../../response/internal";
import { checkLadder } from "./make-ladder";
import type { Ladder } from "./ladder-data";

/**
 * What a source sees of a ladder with its load, in Ω: the chain of its reactances, worked back from the load.
 *
 * @param ladder a ladder with its load, from `ladder` or a crossover
 * @param frequencies Hz, above 0, length n, strictly ascending
 * @returns Ω at the n frequencies
 * @throws DividingNetworkError `invalid-argument`
 * @example
 * ```ts
 * import { butterworth, ladder, ladderImpedance } from "dividing-network/alignments";
 * import { valueAt } from "dividing-network/response";
 *
 * const low = ladder(butterworth(1), { pass: "low", frequency: 1000, load: 8 });
 * valueAt(ladderImpedance(low, [1000]), 1000).im; // 8.000
 * ```
 */
export function ladderImpedance(ladder: Ladder, frequencies: ArrayLike<number>): FrequencyResponse {
  checkLadder("ladderImpedance", "ladder", ladder);
  const grid = checkedGrid("ladderImpedance", frequencies);
  const [re, im] = [new Float64Array(grid.length), new Float64Array(grid.length)];
  checkNumber("ladderImpedance", "lowest frequency", grid[0], { above: 0, unit: "Hz" });
  for (let i = 0; i < grid.length; i++) {
    const w = 2 * Math.PI * grid[i]!;
    let [x, y] = [ladder.load, 0];
    for (let k = ladder.elements.length - 1; k >= 0; k--) {
      const { kind, placement, value } = ladder.elements[k]!;
      const reactance = kind === "inductor" ? w * value : -1 / (w * value);
      if (placement === "series") y += reactance;
      else [x, y] = shunted(x, y, reactance);
    }
    re[i] = x;
    im[i] = y;
  }
  return freezeResponse(grid, re, im);
}

/** (x + jy) ∥ jr = jr (x + jy)/(x + j(y + r)) */
function shunted(x: number, y: number, r: number): [number, number] {
  if (!Number.isFinite(r)) return [x, y];
  const size = x * x + (y + r) * (y + r);
  return [(r * r * x) / size, (r * (x * x + y * (y + r))) / size];
}
