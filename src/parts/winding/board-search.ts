import type { RelativePlace, Section } from "./gap";
import { seenFrom, type Triple } from "./mutual-mean";
import { placedMean } from "./placed-mutual";
import type { CheckedWinding } from "./winding";

/** Along which edge of the board a coil's axis points; z is up. */
export type PoseAxis = "x" | "y" | "z";

/** A winding with its self-inductance for one turn, divided by µ₀. */
export interface BoardCoil extends CheckedWinding {
  readonly self: number;
}

/** Where a coil lies: its centre, and its axis. */
export interface Pose {
  readonly x: number;
  readonly y: number;
  readonly z: number;
  readonly axis: PoseAxis;
}

interface Board {
  readonly width: number;
  readonly depth: number;
  readonly gap: number;
  readonly axes: readonly PoseAxis[];
}

/** Places along each side of the board. */
const LATTICE = 9;
const ROUNDS = 5;
const VECTORS: Readonly<Record<PoseAxis, Triple>> = { x: [1, 0, 0], y: [0, 1, 0], z: [0, 0, 1] };

/** Half of the outline along both sides of the board. */
function outline({ meanRadius, depth, length }: CheckedWinding, axis: PoseAxis): readonly [number, number] {
  const radius = meanRadius + depth / 2;
  return [axis === "x" ? length / 2 : radius, axis === "y" ? length / 2 : radius];
}

function posed(coil: CheckedWinding, x: number, y: number, axis: PoseAxis): Pose {
  return { x, y, z: axis === "z" ? coil.length / 2 : coil.meanRadius + coil.depth / 2, axis };
}

/** Estimates |k| of two coils at their poses. */
type Estimate = (a: BoardCoil, b: BoardCoil, first: Pose, second: Pose) => number;

const placeOf = (first: Pose, second: Pose): RelativePlace =>
  seenFrom([second.x - first.x, second.y - first.y, second.z - first.z], VECTORS[first.axis], VECTORS[second.axis]);
/** The single turn that has the far field of a winding. */
const turnOf = ({ meanRadius, depth }: BoardCoil): Section => ({
  meanRadius: Math.sqrt(meanRadius * meanRadius + (depth * depth) / 12),
  length: 0,
  depth: 0,
});

/** By one turn for each coil: right to some ten per cent, and where it goes through 0 by symmetry. */
const byTurns: Estimate = (a, b, first, second) =>
  Math.abs(placedMean(turnOf(a), turnOf(b), placeOf(first, second), b.meanRadius, { outer: 3, inner: 2, extra: 0 })[0])
  / Math.sqrt(a.self * b.self);
/** By three points of each section, to a per cent or so. */
const bySections: Estimate = (a, b, first, second) =>
  Math.abs(placedMean(a, b, placeOf(first, second), b.meanRadius, { outer: 3, inner: 2, extra: 0 })[0]) / Math.sqrt(a.self * b.self);

function free(board: Board, coils: readonly BoardCoil[], poses: readonly (Pose | undefined)[], index: number, pose: Pose): boolean {
  const [halfX, halfY] = outline(coils[index]!, pose.axis);
  if (Math.abs(pose.x) + halfX > (board.width / 2) * (1 + 1e-12) || Math.abs(pose.y) + halfY > (board.depth / 2) * (1 + 1e-12))
    return false;
  return poses.every((other, k) => {
    if (k === index || other === undefined) return true;
    const [otherX, otherY] = outline(coils[k]!, other.axis);
    return Math.abs(pose.x - other.x) >= halfX + otherX + board.gap || Math.abs(pose.y - other.y) >= halfY + otherY + board.gap;
  });
}

/** Largest |k| of one coil with those that lie already. */
function worstOf(estimate: Estimate, coils: readonly BoardCoil[], poses: readonly (Pose | undefined)[], index: number, pose: Pose): number {
  let worst = 0;
  poses.forEach((other, k) => {
    if (k !== index && other !== undefined)
      worst = Math.max(
        worst,
        k < index ? estimate(coils[k]!, coils[index]!, other, pose) : estimate(coils[index]!, coils[k]!, pose, other),
      );
  });
  return worst;
}

/** Poses about a middle, of which the outline stays on the board. */
function* candidates(board: Board, coil: BoardCoil, middle: Pose | undefined, share: number): Generator<Pose> {
  for (const axis of board.axes) {
    const [halfX, halfY] = outline(coil, axis);
    const [roomX, roomY] = [board.width / 2 - halfX, board.depth / 2 - halfY];
    if (roomX < 0 || roomY < 0) continue;
    const steps = middle === undefined ? LATTICE : 5;
    for (let i = 0; i < steps; i++) {
      for (let k = 0; k < steps; k++) {
        const x = (middle?.x ?? 0) + share * roomX * ((2 * i) / (steps - 1) - 1);
        const y = (middle?.y ?? 0) + share * roomY * ((2 * k) / (steps - 1) - 1);
        yield posed(coil, Math.max(-roomX, Math.min(roomX, x)), Math.max(-roomY, Math.min(roomY, y)), axis);
      }
    }
  }
}

/** A coil takes the best pose for the others as they lie; tells whether it moved. */
function improve(
  estimate: Estimate,
  coils: readonly BoardCoil[],
  board: Board,
  poses: (Pose | undefined)[],
  index: number,
  share: number,
  local: boolean,
): boolean {
  const now = poses[index];
  let worst = now === undefined ? Infinity : worstOf(estimate, coils, poses, index, now);
  let moved = false;
  for (const pose of candidates(board, coils[index]!, local ? now : undefined, share)) {
    if (!free(board, coils, poses, index, pose)) continue;
    const value = worstOf(estimate, coils, poses, index, pose);
    // Only what is better by more than rounding moves a coil.
    if (value < worst * (1 - 1e-6) - 1e-9) [worst, moved, poses[index]] = [value, true, pose];
  }
  return moved;
}

/** Poses for all coils, or the index of one that found no place from any start. */
export function boardSearch(coils: readonly BoardCoil[], board: Board): readonly Pose[] | number {
  const order = coils
    .map((_, index) => index)
    .sort((a, b) => coils[b]!.meanRadius * coils[b]!.length - coils[a]!.meanRadius * coils[a]!.length || a - b);
  let best: { readonly poses: (Pose | undefined)[]; readonly worst: number } | undefined;
  let homeless = order[0]!;
  for (const axis of board.axes) {
    for (const corner of [-1, 0]) {
      const poses = fromStart(coils, board, order, axis, corner);
      if (typeof poses === "number") {
        homeless = poses;
        continue;
      }
      const worst = Math.max(...order.map((index) => worstOf(bySections, coils, poses, index, poses[index]!)));
      if (best === undefined || worst < best.worst) best = { poses, worst };
    }
  }
  if (best === undefined) return homeless;
  const { poses } = best;
  for (let round = 1; round <= ROUNDS; round++)
    order.forEach((index) => improve(bySections, coils, board, poses, index, 0.5 ** (round + 1), true));
  return poses as readonly Pose[];
}

/** Poses on the lattice from one place of the largest coil, or the index of a coil that found none. */
function fromStart(
  coils: readonly BoardCoil[],
  board: Board,
  order: readonly number[],
  axis: PoseAxis,
  corner: number,
): (Pose | undefined)[] | number {
  const poses: (Pose | undefined)[] = coils.map(() => undefined);
  const first = order[0]!;
  const [halfX, halfY] = outline(coils[first]!, axis);
  const start = posed(coils[first]!, corner * (board.width / 2 - halfX), corner * (board.depth / 2 - halfY), axis);
  if (!free(board, coils, poses, first, start)) return first;
  poses[first] = start;
  for (const index of order.slice(1)) if (!improve(byTurns, coils, board, poses, index, 1, false)) return index;
  for (let round = 0; round < 3; round++)
    if (!order.map((index) => improve(byTurns, coils, board, poses, index, 1, false)).includes(true)) break;
  return poses;
}
