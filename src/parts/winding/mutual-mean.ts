import { gapBetween, type RelativePlace, type Section } from "./gap";
import { placedMean } from "./placed-mutual";

/** A point or a direction. */
export type Triple = readonly [number, number, number];

/** The rules in turn: digits aimed at, and the smallest gap that counts, in mean radii of the second winding. */
const RULES = /* @__PURE__ */ Object.freeze([
  [3, 0.3],
  [4, 0.3],
  [5, 0.2],
  [6, 0.1],
] as const);
/** A rule is at least this many times nearer to the truth than to the rule before it. */
const GAIN = 5;
const ACCURACY = 1e-6;

/**
 * Mean mutual inductance of two filaments of two windings, divided by µ₀, and the estimated largest error of the integration; undefined when they overlap.
 * The winding of the larger outer radius makes the field. Lengths in one unit, the axis of length 1.
 */
export function mutualMean(
  a: Section,
  b: Section,
  position: Triple,
  axis: Triple,
): { readonly mean: number; readonly error: number } | undefined {
  const there = seenFrom(position, [0, 0, 1], axis);
  const back = seenFrom([-position[0], -position[1], -position[2]], axis, [0, 0, 1]);
  const gap = Math.min(gapBetween(a, b, there), gapBetween(b, a, back));
  if (gap < 0) return undefined;
  const swap = b.meanRadius + b.depth / 2 > a.meanRadius + a.depth / 2;
  const [first, second, place] = swap ? ([b, a, back] as const) : ([a, b, there] as const);
  let before = NaN;
  let mean = NaN;
  for (const [level, [digits, floor]] of RULES.entries()) {
    const [next, gross] = placedMean(first, second, place, Math.max(gap, floor * second.meanRadius), {
      outer: digits,
      inner: digits + 2,
      extra: Math.min(level, 2),
    });
    [before, mean] = [mean, next];
    if (Math.abs(mean - before) / GAIN <= Math.max(ACCURACY * Math.abs(mean), 1e-9 * gross)) break;
  }
  return { mean, error: Math.abs(mean - before) / GAIN };
}

/** Where a second winding is in the frame of a first: z its axis, x the direction across it in which the second lies, or points if it lies on it. */
export function seenFrom(position: Triple, own: Triple, other: Triple): RelativePlace {
  const along = dot(position, own);
  const across = minus(position, own, along);
  const cosine = dot(other, own);
  const tilt = minus(other, own, cosine);
  const [x, slope] = [Math.hypot(...across), Math.hypot(...tilt)];
  const aside = x > 1e-14 * Math.hypot(...position);
  const e1 = aside
    ? (across.map((each) => each / x) as unknown as Triple)
    : slope > 0
      ? (tilt.map((each) => each / slope) as unknown as Triple)
      : undefined;
  if (e1 === undefined) return { x: 0, z: along, axis: [0, 0, Math.sign(cosine)] };
  const e2: Triple = [own[1] * e1[2] - own[2] * e1[1], own[2] * e1[0] - own[0] * e1[2], own[0] * e1[1] - own[1] * e1[0]];
  return { x: aside ? x : 0, z: along, axis: [tidy(dot(other, e1)), tidy(dot(other, e2)), tidy(cosine)] };
}

const dot = (a: Triple, b: Triple): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const minus = (a: Triple, b: Triple, times: number): Triple => [a[0] - times * b[0], a[1] - times * b[1], a[2] - times * b[2]];
/** What is rounding of a direction: a symmetry is then seen as one. */
const tidy = (value: number): number => (Math.abs(value) < 1e-14 ? 0 : value);
