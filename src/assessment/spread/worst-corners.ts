import type { Criterion } from "./criteria";
import type { SpreadModel } from "./spread-model";

/** The corner of the tolerances that is worst for one criterion. */
export interface WorstCorner {
  readonly value: number;
  /** −1 or 1 by group. */
  readonly corner: Int8Array;
}

/** With so many groups at most, all corners are looked at. */
export const ALL_CORNERS = 11;
/** Rounds over all groups after which a search ends. */
const ROUNDS = 20;

/**
 * The worst corner for every criterion: of all of them up to eleven groups; beyond, the best found by turning one group after the other round, from the corner
 * to which the slopes point and from the opposite ends of the worst samples.
 */
export function worstCorners(
  model: SpreadModel,
  criteria: readonly Criterion[],
  slopes: readonly Float64Array[],
  samples: readonly Float64Array[],
  onStep: () => void,
): readonly WorstCorner[] {
  const G = model.groups.length;
  const at = new Float64Array(G);
  const worst = criteria.map(() => ({ value: NaN, corner: new Int8Array(G) }));
  const look = () => {
    model.evaluate(at);
    criteria.forEach(({ side, value }, c) => {
      const now = value();
      if (!(side * now <= side * worst[c]!.value)) worst[c] = { value: now, corner: Int8Array.from(at) };
    });
  };
  if (G <= ALL_CORNERS) {
    for (let corner = 0; corner < 2 ** G; corner++) {
      if (corner % 16 === 0) onStep();
      for (let g = 0; g < G; g++) at[g] = (corner >> g) & 1 ? 1 : -1;
      look();
    }
    return worst;
  }
  criteria.forEach(({ side, value }, c) => {
    for (const start of [slopes[c]!.map((slope) => (side * slope >= 0 ? 1 : -1)), samples[c]!.map((x) => (x >= 0 ? 1 : -1))]) {
      at.set(start);
      look();
      model.evaluate(at);
      let now = value();
      for (let round = 0, turned = true; turned && round < ROUNDS; round++) {
        turned = false;
        onStep();
        for (let g = 0; g < G; g++) {
          at[g] = -at[g]!;
          model.evaluate(at);
          const next = value();
          if (side * next > side * now) [now, turned] = [next, true];
          else at[g] = -at[g]!;
        }
      }
      look();
    }
  });
  return worst;
}
