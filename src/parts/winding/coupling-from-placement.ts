import { DividingNetworkError } from "../../errors";
import { checkNumber, checkOptions, show } from "../../errors/internal";
import { VACUUM_PERMEABILITY } from "../../physics";
import type { Length } from "../../quantity";
import { inSi } from "../../quantity/internal";
import type { Section } from "./gap";
import { mutualMean, type Triple } from "./mutual-mean";
import { checkedWinding, type Winding } from "./winding";
import { selfMean } from "./winding-inductance";

/** Where a second coil is, seen from the first, whose centre is the origin and whose axis is z: lengths in metres. */
export interface CoilPlace {
  /** m from the first coil's centre, across its axis. */
  readonly x: Length;
  /** m, across its axis and across x. */
  readonly y: Length;
  /** m, along the first coil's axis. */
  readonly z: Length;
  /** Direction of the second coil's axis, dimensionless, of any length; default that of z. Both coils turn right-handed about their axes. */
  readonly axis?:
    | {
        /** Component across the first coil's axis. */
        readonly x: number;
        /** Component across the first coil's axis and across x. */
        readonly y: number;
        /** Component along the first coil's axis. */
        readonly z: number;
      }
    | undefined;
}

/** How two coils are coupled. */
export interface PlacedCoupling {
  /** M in H; positive when currents in the winding sense of both aid each other. */
  readonly mutualInductance: number;
  /** M/√(L₁L₂), dimensionless, for `coupling`. */
  readonly k: number;
  /** Estimated largest error of k by the integration, dimensionless: a fifth of how far the last two rules lie apart. */
  readonly error: number;
}

/** What differs by more leaves the range of numbers in the third power of a distance. */
const FURTHEST = 1e40;

/**
 * Mutual inductance and coupling factor of two air coils in any position and direction. The vector potential of one, whose filaments are circles
 * (Maxwell's formula), is integrated along the turns of the other, with uniform current density over both sections. The rules are made finer until
 * the estimated error is below 1e-6 of the result, or 1e-9 of what is positive and negative in it when it nearly vanishes; `error` says what was
 * reached, also where coils that touch ask for more than the finest rule. Self-inductances as `windingInductance` gives them.
 *
 * Iron, a metal chassis or a driver's magnet near by change it and aren't in it.
 *
 * @param coilA the first coil, at the origin with its axis along z: `turns`, and `meanRadius`, `length`, `depth` in m
 * @param coilB the second coil, alike
 * @param place centre of the second in m, and the direction of its axis (dimensionless)
 * @returns mutual inductance in H, coupling factor k and the error of k, dimensionless
 * @throws DividingNetworkError `invalid-argument`, `invalid-quantity`, `unknown-option`; `coils-overlap` when they take the same place; `overflow`
 * @example
 * ```ts
 * import { couplingFromPlacement } from "dividing-network/parts";
 *
 * const coil = { turns: 160, meanRadius: "22 mm", length: "20 mm", depth: "14 mm" } as const;
 * couplingFromPlacement(coil, coil, { x: "80 mm", y: 0, z: 0 }).k; // -0.01679
 * couplingFromPlacement(coil, coil, { x: "80 mm", y: 0, z: 0, axis: { x: 1, y: 0, z: 0 } }).k; // 0
 * ```
 */
export function couplingFromPlacement(coilA: Winding, coilB: Winding, place: CoilPlace): PlacedCoupling {
  const caller = "couplingFromPlacement";
  const a = checkedWinding(caller, coilA, "coilA");
  const b = checkedWinding(caller, coilB, "coilB");
  const { position, axis } = checkedPlace(caller, place);
  const scale = Math.max(a.meanRadius, a.length, b.meanRadius, b.length);
  const smallest = Math.min(a.meanRadius, b.meanRadius);
  const largest = Math.max(scale, ...position.map(Math.abs));
  if (!(largest < FURTHEST * smallest)) {
    throw new DividingNetworkError(
      "overflow",
      `${caller}: "place" and the coils must be within ${FURTHEST} times the smaller mean radius, got ${largest} m and ${smallest} m`,
      "Check the units of what was given",
    );
  }
  const [self, other] = [selfMean(scaled(a, scale)), selfMean(scaled(b, scale))];
  const root = Math.sqrt(self) * Math.sqrt(other);
  const found = mutualMean(scaled(a, scale), scaled(b, scale), position.map((each) => each / scale) as unknown as Triple, axis);
  if (found === undefined) {
    throw new DividingNetworkError(
      "coils-overlap",
      `${caller}: "place" must leave each coil its own room, got two coils that overlap`,
      "Move them apart; lengths are in metres unless they have a unit",
    );
  }
  const { mean, error } = found;
  const mutualInductance = VACUUM_PERMEABILITY * scale * (a.turns * b.turns) * mean;
  if (!Number.isFinite(mutualInductance)) {
    throw new DividingNetworkError(
      "overflow",
      `${caller}: "mutualInductance" must be within what a number can hold, got ${mutualInductance}`,
      "Check the units of what was given",
    );
  }
  return Object.freeze({ mutualInductance, k: mean / root, error: error / root });
}

function scaled({ meanRadius, length, depth }: Section, scale: number): Section {
  return { meanRadius: meanRadius / scale, length: length / scale, depth: Math.min(depth, 2 * meanRadius) / scale };
}

function checkedPlace(caller: string, place: CoilPlace): { readonly position: Triple; readonly axis: Triple } {
  checkOptions(caller, place, ["x", "y", "z", "axis"]);
  const position = (["x", "y", "z"] as const).map((key) => inSi(caller, `place.${key}`, place?.[key], "m")) as unknown as Triple;
  const axis = place.axis ?? { x: 0, y: 0, z: 1 };
  checkOptions(caller, axis, ["x", "y", "z"]);
  const given = (["x", "y", "z"] as const).map((key) => checkNumber(caller, `place.axis.${key}`, axis?.[key]));
  const largest = Math.max(...given.map(Math.abs));
  if (largest === 0)
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "place.axis" must have a direction, got ${show(axis)} of length 0`,
      "Leave it out for parallel axes",
    );
  const size = Math.hypot(...given.map((each) => each / largest));
  return { position, axis: given.map((each) => each / largest / size) as unknown as Triple };
}
