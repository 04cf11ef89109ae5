import type { Random } from "../../numeric/internal";

/** How values scatter within ± their tolerance. */
export type Distribution = "uniform" | "triangular" | "normal";

/** Deviations in [−1, 1]: even, a triangle with its peak at 0, or a bell whose tolerance is three standard deviations and that is cut off there. */
export function deviations(random: Random, distribution: Distribution): () => number {
  if (distribution === "uniform") return () => 2 * random() - 1;
  if (distribution === "triangular") return () => random() + random() - 1;
  return () => {
    for (;;) {
      // The polar method of Marsaglia and Bray (1964): a point in the unit disc, two normal numbers of which one is used.
      const [x, y] = [2 * random() - 1, 2 * random() - 1];
      const size = x * x + y * y;
      if (size >= 1 || size === 0) continue;
      const third = (x * Math.sqrt((-2 * Math.log(size)) / size)) / 3;
      if (Math.abs(third) <= 1) return third;
    }
  };
}
