import { shapeOf } from "../assessment/internal";
import type { Goal } from "../assessment";
import type { FitConstraint } from "./fit-constraints";
import type { FitSolver } from "./fit-solver";
import type { FitSums } from "./fit-sums";
import type { Limits } from "./limits";
import { DB_PER_NEPER } from "./search-problem";

/** What is heard inside the judged band: what the levels outside it are held against. */
export interface Inside {
  /** dB by place and node, less the target's shape; and their slopes by one unknown. */
  readonly levels: Float64Array;
  readonly slopes: Float64Array;
  /** Nodes of a place. */
  readonly nodes: number;
  /** dB: a place's target, of levels; or what an unknown moves it by, of slopes. */
  readonly target: (place: number, of: "levels" | "slopes") => number;
}

/** dB of a power mean in Pa², taken re 20 µPa already. */
const level = (power: number): number => (DB_PER_NEPER / 2) * Math.log(power);

/** The levels outside the judged band: above the target by no more than the limit, or than the highest inside at the same place. */
export function humpConstraint(
  goal: Goal,
  { outside: { rows, places, frequencies }, largestHumpDb }: Limits,
  heard: FitSums,
  { solved, moved }: FitSolver,
  inside: Inside,
): FitConstraint {
  const [F, N] = [frequencies.length, inside.nodes];
  const shapes = places.map((k) => Float64Array.from(rows, ({ frequency }) => shapeOf(goal, goal.places[k]!)(frequency)));
  const powers = new Float64Array(places.length * rows.length);
  const perPoint = new Float64Array(F);
  /** The node of a place whose level lies highest. */
  const highest = (k: number): number => {
    let most = k * N;
    for (let node = k * N; node < (k + 1) * N; node++) if (inside.levels[node]! > inside.levels[most]!) most = node;
    return most;
  };
  const allowedByInside = (k: number, most: number) => inside.levels[most]! - inside.target(k, "levels") > largestHumpDb;
  return {
    count: places.length * rows.length,
    values(out) {
      if (rows.length === 0) return;
      heard.hear(solved.voltages);
      places.forEach((k, p) => {
        const most = highest(k);
        const target = inside.target(k, "levels");
        const allowed = allowedByInside(k, most) ? inside.levels[most]! : largestHumpDb + target;
        rows.forEach(({ first, weights }, row) => {
          let power = 0;
          for (let j = 0; j < weights.length; j++)
            power += weights[j]! * (heard.re[p * F + first + j]! ** 2 + heard.im[p * F + first + j]! ** 2);
          powers[p * rows.length + row] = power;
          // Silence is no hump.
          out[p * rows.length + row] = (Math.max(-1e3, level(power)) - shapes[p]![row]! - allowed) / DB_PER_NEPER;
        });
      });
    },
    slopes(unknown, out) {
      places.forEach((k, p) => {
        const most = highest(k);
        const allowed = allowedByInside(k, most) ? inside.slopes[most]! : inside.target(k, "slopes");
        heard.powerSlopes(p, moved[unknown]!.voltages, perPoint);
        rows.forEach(({ first, weights }, row) => {
          let sum = 0;
          for (let j = 0; j < weights.length; j++) sum += weights[j]! * perPoint[first + j]!;
          const power = powers[p * rows.length + row]!;
          out[p * rows.length + row] = power > 0 ? sum / (2 * power) - allowed / DB_PER_NEPER : 0;
        });
      });
    },
  };
}
