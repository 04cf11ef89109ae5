import type { Loudspeaker } from "../../loudspeaker";
import { pressuresAt } from "../../loudspeaker/internal";
import { varyingNetwork, type VaryingNetwork } from "../../network/internal";
import { DRIVE_VOLTAGE, REFERENCE_PRESSURE } from "../../physics";
import { frequencyResponse } from "../../response";
import type { Band } from "../band";
import type { Goal } from "../goal-types";
import { withPartner } from "../heard-places";
import type { GoalLoss } from "../loss";
import { shapeOf } from "../target-shape";
import { QUIETEST_DB } from "../third-octaves";
import { driverMotion, type DriverMotion } from "./driver-motion";
import type { SpreadGrid } from "./spread-grid";
import { bandWeights, thirdOctaveSums } from "./third-octave-sums";
import { driverTolerances, groupsOf, type Group, type VariableOptions } from "./variables";

/** A loudspeaker that is heard again and again with other parts and drivers. All arrays are written anew by `evaluate`. */
export interface SpreadModel {
  readonly groups: readonly Group[];
  readonly grid: SpreadGrid;
  readonly network: VaryingNetwork;
  /** The number of the voltage of a driver's part among `network.volts`. */
  readonly channel: ReadonlyMap<string, number>;
  /** By place and point: how much it counts for the place's mean over its band; 0 outside. */
  readonly weights: Float64Array;
  /** By place: the first point of the grid at which it was measured, and the one after the last. */
  readonly known: readonly { readonly first: number; readonly end: number }[];
  /** Pa² by place and point; 0 where it wasn't measured. */
  readonly powers: Float64Array;
  /** dB re 20 µPa by place and point: third-octave levels (or plain ones where the goal states frequencies) less the target's shape. */
  readonly levels: Float64Array;
  /** dB of each place: its mean over the band, and its mean square from there. */
  readonly means: Float64Array;
  readonly variances: Float64Array;
  /** Hears the loudspeaker whose groups deviate by −1 … 1 of their tolerance. */
  evaluate(deviations: ArrayLike<number>): void;
  /** The factor of a part's resonance at the last evaluation. */
  resonanceFactor(part: string): number;
  /** Why the resonance and Q of a driver's part don't scatter, by part. */
  readonly still: ReadonlyMap<string, string>;
}

const DB_PER_NEPER = 20 / Math.LN10;

/** Solves what stays: the drivers' pressures at the goal's places, their motion, the order of elimination. */
export function spreadModel(
  caller: string,
  box: Loudspeaker,
  goal: Goal,
  { distance, places }: Pick<GoalLoss, "distance" | "places">,
  covered: readonly Band[],
  grid: SpreadGrid,
  options: VariableOptions,
): SpreadModel {
  const { drivers } = box;
  const [n, K, D] = [grid.heard.length, goal.places.length, drivers.length];
  const parts = [...new Set(drivers.map(({ part }) => part))];
  const motions = new Map<string, DriverMotion>();
  const still = new Map<string, string>();
  const tolerances = driverTolerances(caller, box, options);
  for (const part of parts) {
    const sharing = tolerances.filter((_, index) => drivers[index]!.part === part);
    const [resonance, q] = [Math.max(...sharing.map((own) => own.resonance.size)), Math.max(...sharing.map((own) => own.q.size))];
    const motion = resonance === 0 && q === 0 ? undefined : driverMotion(box.network, part, grid.all, { resonance, q });
    if (typeof motion === "string") still.set(part, motion);
    else if (motion !== undefined) motions.set(part, motion);
  }
  const network = varyingNetwork(caller, box.network, grid.all, parts, box.sourceImpedance, motions);
  const groups = groupsOf(caller, box, network.circuit, options, new Set(motions.keys()));
  const channel = new Map(parts.map((part, index) => [part, index]));
  const channelOf = Int32Array.from(drivers, ({ part }) => channel.get(part)!);
  const branchOf = new Map(parts.map((part) => [part, network.circuit.parts.get(part)!.branches[0]!]));

  // Pa for 1 V at each driver, by place and driver, and what a partner adds, by place: arrays over the points.
  const table = (count: number) => ({ re: new Float64Array(count * n), im: new Float64Array(count * n) });
  const [pressure, beside, drive] = [table(K * D), table(K), table(D)];
  const plain = goal.frequencies !== undefined;
  const known = covered.map(({ from, to }) => {
    if (plain) return { first: 0, end: n };
    const end = grid.heard.findIndex((frequency) => frequency > to);
    return { first: grid.heard.findIndex((frequency) => frequency >= from), end: end < 0 ? n : end };
  });
  goal.places.forEach(({ azimuth, elevation }, k) => {
    const { first, end } = known[k]!;
    const here = grid.heard.subarray(first, end);
    pressuresAt(caller, box, { distance, azimuth, elevation }, here).forEach(({ re, im }, d) => {
      for (let j = 0; j < here.length; j++) {
        pressure.re[(k * D + d) * n + first + j] = DRIVE_VOLTAGE * re[j]!;
        pressure.im[(k * D + d) * n + first + j] = DRIVE_VOLTAGE * im[j]!;
      }
    });
    if (goal.partner === undefined || !("pressures" in goal.partner)) return;
    const silence = frequencyResponse(here, new Float64Array(here.length), new Float64Array(here.length));
    const { re, im } = withPartner(goal, { azimuth, elevation }, silence);
    beside.re.set(re, k * n + first);
    beside.im.set(im, k * n + first);
  });
  const shapes = Float64Array.from({ length: K * n });
  goal.places.forEach((place, k) => {
    const shape = shapeOf(goal, place);
    for (let j = 0; j < n; j++) shapes[k * n + j] = shape(grid.heard[j]!) + 20 * Math.log10(REFERENCE_PRESSURE);
  });

  const weights = new Float64Array(K * n);
  places.forEach(({ band }, k) =>
    weights.set(plain ? new Float64Array(n).fill(1 / n) : bandWeights(grid.heard, band.from, band.to), k * n),
  );
  const powers = new Float64Array(K * n);
  const smoothed = plain ? powers : new Float64Array(K * n);
  const thirds = plain ? undefined : known.map(({ first, end }) => thirdOctaveSums(grid.heard.subarray(first, end)));
  const levels = new Float64Array(K * n);
  const [means, variances] = [new Float64Array(K), new Float64Array(K)];
  const [gain, delay, resonance, q] = [new Float64Array(D), new Float64Array(D), new Float64Array(D), new Float64Array(D)];
  const alone = drivers.map(({ part }) => motions.get(part));
  const [sumRe, sumIm] = [new Float64Array(n), new Float64Array(n)];

  const put = (deviations: ArrayLike<number>) => {
    gain.fill(1);
    delay.fill(0);
    resonance.fill(1);
    q.fill(1);
    for (let g = 0; g < groups.length; g++) {
      const x = deviations[g]!;
      const { values, drivers: own } = groups[g]!;
      for (const { place, nominal, relative } of values) network.write(place, nominal * (1 + relative * x));
      for (const { driver, quantity, size } of own) {
        if (quantity === "levelDb") gain[driver] = Math.exp((size * x) / DB_PER_NEPER);
        else if (quantity === "delay") delay[driver] = size * x;
        else if (quantity === "resonance") resonance[driver] = 1 + size * x;
        else q[driver] = 1 + size * x;
      }
    }
    for (let d = 0; d < D; d++) {
      if (alone[d] === undefined) continue;
      const values = network.values[branchOf.get(drivers[d]!.part)!]!;
      values[0] = resonance[d]!;
      values[1] = q[d]!;
    }
  };

  /** V at a driver's terminals times what its own deviations do to its pressure: level, delay, and the second-order high-pass of its resonance against that of the driver as it is. */
  const driveOf = (d: number) => {
    const { re, im } = network.volts[channelOf[d]!]!;
    const motion = alone[d];
    const a = resonance[d]!;
    const b = q[d]!;
    const turns = -2 * Math.PI * delay[d]!;
    for (let j = 0; j < n; j++) {
      const i = grid.heardAt[j]!;
      let vr = re[i]! * gain[d]!;
      let vi = im[i]! * gain[d]!;
      if (motion !== undefined && (a !== 1 || b !== 1)) {
        const u = grid.heard[j]! / motion.fs;
        const nr = 1 - u * u;
        const ni = u / motion.qts;
        const dr = a * a - u * u;
        const di = (a * u) / (b * motion.qts);
        const size = dr * dr + di * di;
        const gr = (nr * dr + ni * di) / size;
        const gi = (ni * dr - nr * di) / size;
        const whole = vr * gr - vi * gi;
        vi = vr * gi + vi * gr;
        vr = whole;
      }
      if (turns !== 0) {
        const angle = turns * grid.heard[j]!;
        const c = Math.cos(angle);
        const s = Math.sin(angle);
        const whole = vr * c - vi * s;
        vi = vr * s + vi * c;
        vr = whole;
      }
      drive.re[d * n + j] = vr;
      drive.im[d * n + j] = vi;
    }
  };

  const evaluate = (deviations: ArrayLike<number>) => {
    put(deviations);
    network.run();
    for (let d = 0; d < D; d++) driveOf(d);
    for (let k = 0; k < K; k++) {
      for (let j = 0; j < n; j++) {
        sumRe[j] = beside.re[k * n + j]!;
        sumIm[j] = beside.im[k * n + j]!;
      }
      for (let d = 0; d < D; d++) {
        const at = (k * D + d) * n;
        for (let j = 0; j < n; j++) {
          const pr = pressure.re[at + j]!;
          const pi = pressure.im[at + j]!;
          const vr = drive.re[d * n + j]!;
          const vi = drive.im[d * n + j]!;
          sumRe[j]! += pr * vr - pi * vi;
          sumIm[j]! += pr * vi + pi * vr;
        }
      }
      for (let j = 0; j < n; j++) powers[k * n + j] = sumRe[j]! * sumRe[j]! + sumIm[j]! * sumIm[j]!;
    }
    for (let k = 0; k < K; k++) {
      thirds?.[k]!(powers, k * n + known[k]!.first, smoothed);
      let mean = 0;
      for (let j = 0; j < n; j++) {
        const level = Math.max(QUIETEST_DB, (DB_PER_NEPER / 2) * Math.log(smoothed[k * n + j]!)) - shapes[k * n + j]!;
        levels[k * n + j] = level;
        mean += weights[k * n + j]! * level;
      }
      let variance = 0;
      for (let j = 0; j < n; j++) variance += weights[k * n + j]! * (levels[k * n + j]! - mean) ** 2;
      means[k] = mean;
      variances[k] = variance;
    }
  };
  return {
    groups,
    grid,
    network,
    channel,
    weights,
    known,
    powers,
    levels,
    means,
    variances,
    evaluate,
    still,
    resonanceFactor: (part) => (motions.has(part) ? network.values[branchOf.get(part)!]![0]! : 1),
  };
}
