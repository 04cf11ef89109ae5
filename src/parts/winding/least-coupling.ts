import { checkList, checkOneOf, checkOptions, show } from "../../errors/internal";
import { DividingNetworkError } from "../../errors";
import type { Length } from "../../quantity";
import { inSi } from "../../quantity/internal";
import { couplingFromPlacement } from "./coupling-from-placement";
import { boardSearch, type BoardCoil, type PoseAxis } from "./board-search";
import { checkedWinding, type Winding } from "./winding";
import { selfMean } from "./winding-inductance";

/** Where a coil goes on a board. */
export interface BoardPlace {
  /** Centre of the coil from the middle of the board, along its width, m. */
  readonly x: number;
  /** Along its depth, m. */
  readonly y: number;
  /** Height of the centre above the board, m. */
  readonly z: number;
  /** Along which edge the coil's axis points: `"z"` lies flat, `"x"` and `"y"` stand on edge. */
  readonly axis: PoseAxis;
}

/** The coupling of two coils of a board, counted from 0 as they were given. */
export interface BoardCoupling {
  /** Index of the first. */
  readonly first: number;
  /** Index of the second. */
  readonly second: number;
  /** Coupling factor, dimensionless, for `coupling`. */
  readonly k: number;
  /** H. */
  readonly mutualInductance: number;
}

/** A board with its coils. */
export interface LeastCoupling {
  /** One for each coil, in their order. */
  readonly places: readonly BoardPlace[];
  /** One for each pair. */
  readonly couplings: readonly BoardCoupling[];
  /** The largest |k| of a pair, dimensionless. */
  readonly worst: number;
}

const AXES = ["x", "y", "z"] as const;

/**
 * Places and axes for a handful of air coils on a board, so that the largest coupling factor of a pair is small. Coils lie flat or stand on edge along
 * either side of the board; the outlines keep a gap. A simple search, the same at every call: from several starts each coil in turn takes the best place
 * of a lattice for the others as they lie, and the lattice is made finer. It finds what the trade does, distance and right angles, and the places
 * off the right angle where the coupling goes through 0; it doesn't prove that there is no better one. The couplings are those of `couplingFromPlacement`.
 *
 * @param options `coils`: two to eight windings, lengths in m; `board`: `width` and `depth` in m; `gap` between outlines in m (default 3 mm); `axes` that are allowed (default all three)
 * @returns places in m, couplings of all pairs, and the largest |k|
 * @throws DividingNetworkError `invalid-argument`, `invalid-quantity`, `unknown-option`; `no-room` when the search finds no place for a coil
 * @example
 * ```ts
 * import { leastCoupling } from "dividing-network/parts";
 *
 * const coil = { turns: 160, meanRadius: "22 mm", length: "20 mm", depth: "14 mm" } as const;
 * leastCoupling({ coils: [coil, coil], board: { width: "20 cm", depth: "12 cm" } }).worst; // < 1e-6
 * ```
 */
export function leastCoupling(options: {
  readonly coils: readonly Winding[];
  readonly board: { readonly width: Length; readonly depth: Length };
  readonly gap?: Length | undefined;
  readonly axes?: readonly PoseAxis[] | undefined;
}): LeastCoupling {
  const caller = "leastCoupling";
  checkOptions(caller, options, ["coils", "board", "gap", "axes"]);
  const given: unknown = options?.coils;
  if (!Array.isArray(given) || given.length < 2 || given.length > 8) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "coils" must be an array of two to eight coils, got ${show(given)}`,
      "Each is { turns, meanRadius, length, depth }",
    );
  }
  const coils = checkList(caller, "coils", given as readonly Winding[], "coils").map((each, index) =>
    checkedWinding(caller, each, `coils[${index}]`),
  );
  checkOptions(caller, options.board, ["width", "depth"]);
  const width = inSi(caller, "board.width", options.board?.width, "m", { above: 0, max: 100 });
  const depth = inSi(caller, "board.depth", options.board.depth, "m", { above: 0, max: 100 });
  const gap = inSi(caller, "gap", options.gap ?? 0.003, "m", { min: 0 });
  const axes: unknown = options.axes ?? AXES;
  if (!Array.isArray(axes) || axes.length === 0)
    throw new DividingNetworkError("invalid-argument", `${caller}: "axes" must be an array of "x", "y" and "z", got ${show(axes)}`);
  const allowed = checkList<unknown>(caller, "axes", axes, "axes").map((each) => checkOneOf(caller, "axes", each, AXES));
  const poses = boardSearch(
    coils.map((each): BoardCoil => ({ ...each, self: selfMean(each) })),
    { width, depth, gap, axes: allowed },
  );
  if (typeof poses === "number") {
    throw new DividingNetworkError(
      "no-room",
      `${caller}: "board" must have room for all coils, got ${width} by ${depth} m, on which coil ${poses} found none`,
      "Take a larger board, a smaller gap, or smaller coils",
    );
  }
  const couplings = coils.flatMap((_, second) =>
    coils.slice(0, second).map((_first, first): BoardCoupling => {
      const { k, mutualInductance } = coupled(options.coils[first]!, options.coils[second]!, poses[first]!, poses[second]!);
      return Object.freeze({ first, second, k, mutualInductance });
    }),
  );
  return Object.freeze({
    places: Object.freeze(poses.map((pose) => Object.freeze({ x: pose.x, y: pose.y, z: pose.z, axis: pose.axis }))),
    couplings: Object.freeze(couplings),
    worst: Math.max(...couplings.map(({ k }) => Math.abs(k))),
  });
}

/** The second seen from the first: the axes of the board change places in turn until the first's is z. */
export function coupled(
  first: Winding,
  second: Winding,
  a: BoardPlace,
  b: BoardPlace,
): { readonly k: number; readonly mutualInductance: number } {
  const shift = AXES.indexOf(a.axis) + 1;
  const turned = (at: readonly number[]): readonly number[] => [at[shift % 3]!, at[(shift + 1) % 3]!, at[(shift + 2) % 3]!];
  const [x, y, z] = turned([b.x - a.x, b.y - a.y, b.z - a.z]) as [number, number, number];
  const [nx, ny, nz] = turned(AXES.map((axis) => (axis === b.axis ? 1 : 0))) as [number, number, number];
  return couplingFromPlacement(first, second, { x, y, z, axis: { x: nx, y: ny, z: nz } });
}
