import { constrainedFit, KEPT, type ConstrainedFit, type ConstrainedProblem } from "./constrained-fit";

/** Places looked at for each start that is begun from. */
const LOOKED = 8;
/** Distinct ends of the coarse fits that are fitted on. */
const FITTED_ON = 4;
/** Ends are the same when no unknown differs by more. */
const SAME = 0.01;
const [COARSE_ITERATIONS, FINE_ITERATIONS] = [40, 200];

/** The best of many fits. */
export interface ManyFits {
  readonly best: ConstrainedFit;
  /** Starts that came to an end, and those of them that ended within 1 % of the best sum of squares, and keep the constraints. */
  readonly ended: number;
  readonly agreeing: number;
}

/** Numbers from 0 to 1 by a seed, the same at every call. */
export function seeded(seed: number): () => number {
  let state = (seed ^ 0x9e3779b9) >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
  };
}

/** The better of two: what keeps the constraints first, then the smaller sum; where neither keeps them, the smaller miss. */
export function isBetter(one: ConstrainedFit, other: ConstrainedFit): boolean {
  if (one.worst <= KEPT && other.worst <= KEPT) return one.squares < other.squares;
  if (one.worst <= KEPT || other.worst <= KEPT) return one.worst <= KEPT;
  return one.worst < other.worst;
}

/**
 * A search of the whole box: places are drawn (seeded) over all of it and, every other one, within a factor of e of the first; the best of them, and as many others, are fitted on a coarse problem, and the best distinct ends on the
 * fine one. That is no proof that there is no better one.
 *
 * @param first where to begin in any case
 * @param rest waited for between fits; what it throws ends the search
 */
export async function bestOfStarts(
  coarse: ConstrainedProblem,
  fine: ConstrainedProblem,
  first: Float64Array,
  starts: number,
  seed: number,
  rest: () => Promise<void> | undefined,
): Promise<ManyFits | undefined> {
  const next = seeded(seed);
  const { lower, upper } = coarse;
  const inside = (x: Float64Array) => x.map((value, i) => Math.min(upper[i]!, Math.max(lower[i]!, value)));
  const [out, constraints] = [new Float64Array(coarse.residuals), new Float64Array(coarse.constraints)];
  const merit = (x: Float64Array): number => {
    coarse.values(x, out, constraints);
    return out.reduce((sum, value) => sum + value * value, 0) + 100 * constraints.reduce((sum, value) => sum + Math.max(0, value) ** 2, 0);
  };
  const drawn: { readonly x: Float64Array; readonly merit: number }[] = [];
  for (let i = 0; i < LOOKED * (starts - 1); i++) {
    const x = inside(first.map((value, j) => (i % 2 === 1 ? value + 2 * next() - 1 : lower[j]! + next() * (upper[j]! - lower[j]!))));
    const its = merit(x);
    if (Number.isFinite(its)) drawn.push({ x, merit: its });
    const wait = rest();
    if (wait !== undefined) await wait;
  }
  // Half of the starts are the best places, the other half any: a wide valley isn't always deep where one looks first.
  const any = drawn.splice(0, Math.floor((starts - 1) / 2));
  const chosen = [...any, ...drawn.sort((a, b) => a.merit - b.merit).slice(0, starts - 1 - any.length)];
  const rough: ConstrainedFit[] = [];
  for (const x of [inside(first), ...chosen.map((each) => each.x)]) {
    const end = constrainedFit(coarse, x, COARSE_ITERATIONS, 4);
    if (end !== undefined) rough.push(end);
    const wait = rest();
    if (wait !== undefined) await wait;
  }
  rough.sort((a, b) => (isBetter(a, b) ? -1 : isBetter(b, a) ? 1 : 0));
  const distinct = rough
    .filter(
      (each, i) => !rough.slice(0, i).some((other) => other.parameters.every((value, j) => Math.abs(value - each.parameters[j]!) <= SAME)),
    )
    .slice(0, FITTED_ON);
  // What is far above the lowest won't come below it on a finer grid.
  const hopeful = distinct.filter((each) => distinct[0]!.worst > KEPT || each.squares <= 4 * distinct[0]!.squares + 1e-6);
  let [best, from] = [undefined as ConstrainedFit | undefined, undefined as ConstrainedFit | undefined];
  for (const each of hopeful) {
    const end = constrainedFit(fine, each.parameters, FINE_ITERATIONS);
    if (end !== undefined && (best === undefined || isBetter(end, best))) [best, from] = [end, each];
    const wait = rest();
    if (wait !== undefined) await wait;
  }
  if (best === undefined) return undefined;
  const most = from!.squares * 1.01 + 1e-12;
  return {
    best,
    ended: rough.length,
    agreeing: rough.filter(({ squares, worst }) => squares <= most && worst <= Math.max(1e-3, from!.worst)).length,
  };
}
