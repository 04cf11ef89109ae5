import type { Goal } from "../assessment";
import { withPartner } from "../assessment/internal";
import type { Loudspeaker } from "../loudspeaker";
import { pressuresAt } from "../loudspeaker/internal";
import { sourceResponse } from "../network/internal";
import { DRIVE_VOLTAGE, REFERENCE_PRESSURE } from "../physics";
import { frequencyResponse } from "../response";
import type { ConstrainedProblem } from "./constrained-fit";
import { fitConstraints } from "./fit-constraints";
import { fitSolver, type Solved } from "./fit-solver";
import { fitSweeps } from "./fit-sweeps";
import type { FitVariable } from "./fit-variables";
import { thinned, type HeardLevels } from "./heard-levels";
import type { Limits } from "./limits";
import { DB_PER_NEPER } from "./search-problem";

/** Most points at which the load is held to its limits while fitting. */
const MOST_LOAD = 600;

/** The fit of a network to a goal: deviations in dB by place and node, weighted so that their squares add up to the loss's, under the goal's limits. */
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
  // One grid for everything that is to be solved.
  const union = Float64Array.from([
    ...new Set([
      ...heard.frequencies,
      ...load,
      ...(limits.spared.length > 0 ? limits.drive : []),
      ...limits.spared.map(({ resonance }) => resonance),
    ]),
  ]).sort();
  const placeOf = new Map([...union].map((frequency, index) => [frequency, index]));
  const places = (frequencies: ArrayLike<number>) => Int32Array.from(frequencies, (frequency) => placeOf.get(frequency)!);
  const heardAt = places(heard.frequencies);
  const constraints = fitConstraints(
    limits,
    places(load),
    places(limits.drive),
    places(limits.spared.map(({ resonance }) => resonance)),
    hung,
  );

  // Pa at 2.83 V by place, part and frequency; and what is heard beside the network.
  const pressures = goal.places.map(({ azimuth, elevation }, k) => {
    const { first, end } = heard.known[k]!;
    const each = pressuresAt(caller, box, { distance, azimuth, elevation }, heard.frequencies.subarray(first, end));
    return hung.map((part) => {
      const [re, im] = [new Float64Array(F), new Float64Array(F)];
      drivers.forEach((driver, d) => {
        if (driver.part === part)
          for (let f = first; f < end; f++)
            [re[f], im[f]] = [
              re[f]! + (DRIVE_VOLTAGE / REFERENCE_PRESSURE) * each[d]!.re[f - first]!,
              im[f]! + (DRIVE_VOLTAGE / REFERENCE_PRESSURE) * each[d]!.im[f - first]!,
            ];
      });
      return { re, im };
    });
  });
  const beside =
    goal.partner !== undefined && "pressures" in goal.partner
      ? goal.places.map((place, k) => {
          const { first, end } = heard.known[k]!;
          const silence = frequencyResponse(
            heard.frequencies.subarray(first, end),
            new Float64Array(end - first),
            new Float64Array(end - first),
          );
          const added = withPartner(goal, place, silence);
          const [re, im] = [new Float64Array(F), new Float64Array(F)];
          re.set(added.re, first);
          im.set(added.im, first);
          return { re, im };
        })
      : undefined;
  const roots = goal.places.flatMap(({ weight }) => Array.from(heard.shares, (share) => Math.sqrt((weight / total) * share)));
  const stated = goal.places.map(({ levelDb }) => levelDb ?? goal.levelDb);
  const freeWeight = goal.places.reduce((sum, { weight }, k) => (stated[k] === undefined ? sum + weight : sum), 0);

  const [re, im] = [new Float64Array(K * F), new Float64Array(K * F)];
  const powers = new Float64Array(K * N);
  const levels = new Float64Array(K * N);
  /** Sums, their powers at the nodes, and levels less the target's shape in dB. */
  const hear = ({ voltages }: Solved): void => {
    for (let k = 0; k < K; k++) {
      for (let f = 0; f < F; f++) {
        let [r, i] = [
          beside === undefined ? 0 : beside[k]!.re[f]! / REFERENCE_PRESSURE,
          beside === undefined ? 0 : beside[k]!.im[f]! / REFERENCE_PRESSURE,
        ];
        for (let c = 0; c < hung.length; c++) {
          const [P, V, at] = [pressures[k]![c]!, voltages[c]!, heardAt[f]!];
          r += P.re[f]! * V.re[at]! - P.im[f]! * V.im[at]!;
          i += P.re[f]! * V.im[at]! + P.im[f]! * V.re[at]!;
        }
        re[k * F + f] = r;
        im[k * F + f] = i;
      }
      for (let node = 0; node < N; node++) {
        const { first, weights } = heard.rows[k]![node]!;
        let power = 0;
        for (let j = 0; j < weights.length; j++) power += weights[j]! * (re[k * F + first + j]! ** 2 + im[k * F + first + j]! ** 2);
        powers[k * N + node] = power;
        levels[k * N + node] = (DB_PER_NEPER / 2) * Math.log(power) - heard.shapes[k]![node]!;
      }
    }
  };
  /** Weighted deviations from levels: a free level is taken out, which is linear in the levels. */
  const project = (from: ArrayLike<number>, out: Float64Array, isSlope: boolean): void => {
    let free = 0;
    for (let k = 0; k < K; k++)
      if (stated[k] === undefined)
        for (let node = 0; node < N; node++) free += (goal.places[k]!.weight / freeWeight) * heard.shares[node]! * from[k * N + node]!;
    for (let k = 0; k < K; k++)
      for (let node = 0; node < N; node++)
        out[k * N + node] = roots[k * N + node]! * (from[k * N + node]! - (stated[k] === undefined ? free : isSlope ? 0 : stated[k]!));
  };
  /** dB: what the least level is held against. */
  const meanLevel = (from: ArrayLike<number>): number => {
    let sum = 0;
    for (let k = 0; k < K; k++)
      for (let node = 0; node < N; node++) sum += (goal.places[k]!.weight / total) * heard.shares[node]! * from[k * N + node]!;
    return sum;
  };
  const solver =
    fitSolver(network, variables, hung, union, sourceResponse(caller, sourceImpedance, union))
    ?? fitSweeps(network, variables, hung, union, sourceImpedance);
  const perPoint = new Float64Array(F);
  const slopes = new Float64Array(K * N);
  return {
    residuals: K * N,
    constraints: constraints.count,
    lower: Float64Array.from(variables, ({ lower }) => lower),
    upper: Float64Array.from(variables, ({ upper }) => upper),
    values(x, residuals, kept) {
      if (!solver.solve(x)) {
        residuals.fill(NaN);
        kept.fill(NaN);
        return;
      }
      hear(solver.solved);
      project(levels, residuals, false);
      constraints.values(solver.solved, () => meanLevel(levels), kept);
    },
    slopes(x, residuals, kept) {
      if (!solver.differentiate(x)) {
        for (const column of [...residuals, ...kept]) column.fill(NaN);
        return;
      }
      hear(solver.solved);
      for (let v = 0; v < p; v++) {
        const moved = solver.moved[v]!;
        for (let k = 0; k < K; k++) {
          for (let f = 0; f < F; f++) {
            let [r, i] = [0, 0];
            const at = heardAt[f]!;
            for (let c = 0; c < hung.length; c++) {
              const [P, V] = [pressures[k]![c]!, moved.voltages[c]!];
              r += P.re[f]! * V.re[at]! - P.im[f]! * V.im[at]!;
              i += P.re[f]! * V.im[at]! + P.im[f]! * V.re[at]!;
            }
            perPoint[f] = 2 * (re[k * F + f]! * r + im[k * F + f]! * i);
          }
          for (let node = 0; node < N; node++) {
            const { first, weights } = heard.rows[k]![node]!;
            let sum = 0;
            for (let j = 0; j < weights.length; j++) sum += weights[j]! * perPoint[first + j]!;
            slopes[k * N + node] = ((DB_PER_NEPER / 2) * sum) / powers[k * N + node]!;
          }
        }
        project(slopes, residuals[v]!, true);
        constraints.slopes(solver.solved, moved, meanLevel(slopes), kept[v]!);
      }
    },
  };
}
