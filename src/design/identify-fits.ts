import { DividingNetworkError } from "../errors";
import { fitLeastSquares, type LeastSquaresFit } from "../numeric";
import type { Deviations } from "./identify-deviations";
import { startsAround } from "./identify-starts";
import type { Unknown } from "./identify-unknowns";

/** Two fits are the same when each value is within this part, a factor of coupling within this of itself. */
const SAME = 0.01;
/** Measured numbers times unknown values up to which four fits are followed on all points, and to their end; beyond, the best two, which the few points have brought near it. */
const MANY = 50_000;

/** Fits from all starts on few points, and the distinct good ones again on all; best first. */
export function fitsOf(fine: Deviations, coarse: Deviations, unknowns: readonly Unknown[]): readonly LeastSquaresFit[] {
  const fit = ({ residuals, slopes, count }: Deviations, start: ArrayLike<number>, maxIterations: number): LeastSquaresFit | undefined => {
    try {
      const found = fitLeastSquares(residuals, start, { count, maxIterations, maxStep: 1, slopes });
      return Number.isFinite(found.squares) && found.parameters.every(Number.isFinite) ? found : undefined;
    } catch (error) {
      if (error instanceof DividingNetworkError && (error.code === "undetermined" || error.code === "no-solution")) return undefined;
      throw error;
    }
  };
  const large = fine.count * unknowns.length > MANY;
  const bySquares = (one: LeastSquaresFit, other: LeastSquaresFit): number => one.squares - other.squares;
  const rough = startsAround(unknowns)
    .map((start) => fit(coarse.count >= unknowns.length ? coarse : fine, start, 60))
    .filter((each) => each !== undefined)
    .sort(bySquares);
  const distinct = rough.filter((each, index) => !rough.slice(0, index).some((before) => same(each, before))).slice(0, large ? 2 : 4);
  const fits = distinct
    .map(({ parameters }) => fit(fine, parameters, large ? 40 : 200))
    .filter((each) => each !== undefined)
    .sort(bySquares);
  // Of fits that are equally good, the one nearest to the drawing.
  const limit = (fits[0]?.squares ?? 0) * (1 + 1e-6) + 1e-20 * fine.count;
  const away = ({ parameters, squares }: LeastSquaresFit): number =>
    squares > limit ? Infinity : unknowns.reduce((sum, { drawn, scale }, index) => sum + (parameters[index]! - scale.of(drawn)) ** 2, 0);
  return fits
    .map((each) => ({ each, by: away(each) }))
    .sort((one, other) => (one.by === other.by ? bySquares(one.each, other.each) : one.by - other.by))
    .map(({ each }) => each);
}

function same(one: LeastSquaresFit, other: LeastSquaresFit): boolean {
  return one.parameters.every((value, index) => Math.abs(value - other.parameters[index]!) <= SAME);
}

/** Minima that the measurements can't tell from the best: within four of chi squared, by the scatter. */
export function othersThan(
  best: LeastSquaresFit,
  ranked: readonly LeastSquaresFit[],
  unknowns: readonly Unknown[],
  scatter: number,
): Float64Array[] {
  const alike = ranked.filter((each) => each !== best && !same(each, best) && each.squares - best.squares <= 4 * scatter * scatter + 1e-16);
  return alike
    .filter((each, index) => !alike.slice(0, index).some((before) => same(each, before)))
    .map(({ parameters }) => parameters.map((at, index) => unknowns[index]!.scale.value(at)));
}
