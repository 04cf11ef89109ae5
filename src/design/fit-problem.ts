import type { Goal } from "../assessment";
import type { Loudspeaker } from "../loudspeaker";
import { sourceResponse } from "../network/internal";
import type { ConstrainedProblem } from "./constrained-fit";
import { levelConstraint, loadConstraint, sparingConstraint, type FitConstraint } from "./fit-constraints";
import { dampingConstraint } from "./fit-damping";
import { humpConstraint } from "./fit-hump";
import { fitSolver } from "./fit-solver";
import { fitSums } from "./fit-sums";
import { fitSweeps } from "./fit-sweeps";
import type { FitVariable } from "./fit-variables";
import { thinned, type HeardLevels } from "./heard-levels";
import type { Limits } from "./limits";
import { DB_PER_NEPER } from "./search-problem";

/** Most points at which the load is held to its limits while fitting. */
const MOST_LOAD = 600;

/** The fit of a network to a goal: deviations in dB by place and node, weighted so that their squares add up to the loss's, under the goal's limits but for ratings. */
export function fitProblem(
  caller: string,
  box: Loudspeaker,
  goal: Goal,
  variables: readonly FitVariable[],
  limits: Limits,
  heard: HeardLevels,
  distance: number,
  coarse: boolean,
): ConstrainedProblem {
  const { network, drivers, sourceImpedance } = box;
  const total = goal.places.reduce((sum, { weight }) => sum + weight, 0);
  const [K, N, F, p] = [goal.places.length, heard.shares.length, heard.frequencies.length, variables.length];
  const hung = [...new Set(drivers.map(({ part }) => part))];
  const limited = limits.smallestImpedance > 0 || limits.smallestPeakDissipationResistance > 0;
  const load = limited ? thinned(limits.load, coarse ? 60 : MOST_LOAD) : new Float64Array(0);
  const { outside } = limits;
  const resonances = limits.spared.map(({ resonance }) => resonance);
  // One grid for everything that is to be solved.
  const union = Float64Array.from([
    ...new Set([...heard.frequencies, ...load, ...(limits.spared.length > 0 ? limits.drive : []), ...resonances, ...outside.frequencies]),
  ]).sort();
  const placeOf = new Map([...union].map((frequency, index) => [frequency, index]));
  const places = (frequencies: ArrayLike<number>) => Int32Array.from(frequencies, (frequency) => placeOf.get(frequency)!);
  const sums = fitSums(caller, box, goal, distance, hung, heard.frequencies, places(heard.frequencies), heard.known);
  const roots = goal.places.flatMap(({ weight }) => Array.from(heard.shares, (share) => Math.sqrt((weight / total) * share)));
  const stated = goal.places.map(({ levelDb }) => levelDb ?? goal.levelDb);
  const freeWeight = goal.places.reduce((sum, { weight }, k) => (stated[k] === undefined ? sum + weight : sum), 0);

  const powers = new Float64Array(K * N);
  const levels = new Float64Array(K * N);
  const perPoint = new Float64Array(F);
  const slopes = new Float64Array(K * N);
  const solver =
    fitSolver(network, variables, hung, union, sourceResponse(caller, sourceImpedance, union))
    ?? fitSweeps(caller, network, variables, hung, union, sourceImpedance);
  /** Sums, their powers at the nodes, and levels less the target's shape in dB. */
  const hear = (): void => {
    sums.hear(solver.solved.voltages);
    for (let k = 0; k < K; k++) {
      for (let node = 0; node < N; node++) {
        const { first, weights } = heard.rows[k]![node]!;
        let power = 0;
        for (let j = 0; j < weights.length; j++)
          power += weights[j]! * (sums.re[k * F + first + j]! ** 2 + sums.im[k * F + first + j]! ** 2);
        powers[k * N + node] = power;
        levels[k * N + node] = (DB_PER_NEPER / 2) * Math.log(power) - heard.shapes[k]![node]!;
      }
    }
  };
  /** dB: the mean over a place's band. */
  const meanAt = (k: number, from: ArrayLike<number>): number => {
    let sum = 0;
    for (let node = 0; node < N; node++) sum += heard.shares[node]! * from[k * N + node]!;
    return sum;
  };
  /** dB: the level that fits best of the places that state none. */
  const freeLevel = (from: ArrayLike<number>): number => {
    let free = 0;
    for (let k = 0; k < K; k++) if (stated[k] === undefined) free += (goal.places[k]!.weight / freeWeight) * meanAt(k, from);
    return free;
  };
  /** Weighted deviations from levels: a free level is taken out, which is linear in the levels. */
  const project = (from: ArrayLike<number>, out: Float64Array, isSlope: boolean): void => {
    const free = freeLevel(from);
    for (let k = 0; k < K; k++)
      for (let node = 0; node < N; node++)
        out[k * N + node] = roots[k * N + node]! * (from[k * N + node]! - (stated[k] === undefined ? free : isSlope ? 0 : stated[k]!));
  };
  /** dB: what the least level is held against. */
  const meanLevel = (from: ArrayLike<number>): number => {
    let sum = 0;
    for (let k = 0; k < K; k++) sum += (goal.places[k]!.weight / total) * meanAt(k, from);
    return sum;
  };
  const axis = goal.places.findIndex(({ azimuth, elevation }) => azimuth === 0 && elevation === 0);
  const damping = dampingConstraint(caller, box, variables, limits);
  const humps = { ...goal, places: outside.places.map((k) => goal.places[k]!) };
  const whole = humps.places.map(() => ({ first: 0, end: outside.frequencies.length }));
  const kinds: readonly FitConstraint[] = [
    loadConstraint(limits, places(load), solver),
    levelConstraint(limits.leastLevelDb, meanLevel, levels, slopes),
    levelConstraint(axis < 0 ? -Infinity : limits.leastAxisDb, (from) => meanAt(axis, from), levels, slopes),
    sparingConstraint(limits, places(limits.drive), places(resonances), hung, solver),
    ...(outside.rows.length === 0
      ? []
      : [
          humpConstraint(
            goal,
            limits,
            fitSums(caller, box, humps, distance, hung, outside.frequencies, places(outside.frequencies), whole),
            solver,
            {
              levels,
              slopes,
              nodes: N,
              target: (k, of) => (of === "levels" ? (stated[k] ?? freeLevel(levels)) : stated[k] === undefined ? freeLevel(slopes) : 0),
            },
          ),
        ]),
    damping,
  ];
  const first = kinds.map((_, i) => kinds.slice(0, i).reduce((sum, { count }) => sum + count, 0));
  const each = (run: (kind: FitConstraint, out: Float64Array) => void, out: Float64Array) =>
    kinds.forEach((kind, i) => run(kind, out.subarray(first[i], first[i]! + kind.count)));
  return {
    residuals: K * N,
    constraints: kinds.reduce((sum, { count }) => sum + count, 0),
    lower: Float64Array.from(variables, ({ lower }) => lower),
    upper: Float64Array.from(variables, ({ upper }) => upper),
    values(x, residuals, kept) {
      if (!solver.solve(x) || !damping.solve(x)) {
        residuals.fill(NaN);
        kept.fill(NaN);
        return;
      }
      hear();
      project(levels, residuals, false);
      each((kind, out) => kind.values(out), kept);
    },
    slopes(x, residuals, kept) {
      if (!solver.differentiate(x) || !damping.differentiate(x)) {
        for (const column of [...residuals, ...kept]) column.fill(NaN);
        return;
      }
      hear();
      // What the slopes of a kind rest on is heard first.
      each((kind, out) => kind.values(out), new Float64Array(kept[0]?.length ?? 0));
      for (let v = 0; v < p; v++) {
        for (let k = 0; k < K; k++) {
          sums.powerSlopes(k, solver.moved[v]!.voltages, perPoint);
          for (let node = 0; node < N; node++) {
            const { first: from, weights } = heard.rows[k]![node]!;
            let sum = 0;
            for (let j = 0; j < weights.length; j++) sum += weights[j]! * perPoint[from + j]!;
            slopes[k * N + node] = ((DB_PER_NEPER / 2) * sum) / powers[k * N + node]!;
          }
        }
        project(slopes, residuals[v]!, true);
        each((kind, out) => kind.slopes(v, out), kept[v]!);
      }
    },
  };
}
