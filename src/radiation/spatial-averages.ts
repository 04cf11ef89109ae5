import { DividingNetworkError } from "../errors";
import { checkNumber, checkOneOf, checkOptions } from "../errors/internal";
import type { Mark } from "../response";
import { checkPlaneMap } from "./check-data";
import { curve, curveFromSquares, difference, type LevelCurve } from "./level-curve";
import { squaresAt } from "./meridians";
import type { PolarMap } from "./field-data";
import { addMarks, sameFrequencies } from "./pressure-field";

/** Spatial averages of a loudspeaker measured all around in two planes; levels in dB re the stated reference, indices in dB. */
export interface SpatialAverages {
  /** At 0°. */
  readonly onAxis: LevelCurve;
  /** Around the axis, where listeners sit. */
  readonly listeningWindow: LevelCurve;
  /** Towards the floor. */
  readonly floorBounce: LevelCurve;
  /** Towards the ceiling. */
  readonly ceilingBounce: LevelCurve;
  /** Towards the wall that the loudspeaker faces. */
  readonly frontWallBounce: LevelCurve;
  /** Towards both side walls. */
  readonly sideWallBounce: LevelCurve;
  /** Towards the wall behind the loudspeaker. */
  readonly rearWallBounce: LevelCurve;
  /** The bounces together. */
  readonly earlyReflections: LevelCurve;
  /** Over the whole sphere, from both circles. */
  readonly soundPower: LevelCurve;
  /** Of listening window, early reflections and sound power, weighted. */
  readonly predictedInRoom: LevelCurve;
  /** Listening window less sound power. */
  readonly soundPowerDirectivityIndex: LevelCurve;
  /** Listening window less early reflections. */
  readonly earlyReflectionsDirectivityIndex: LevelCurve;
  /** The readings chosen where the text is ambiguous, a sentence each. */
  readonly readings: readonly string[];
}

/** Options of `spatialAverages`. */
export interface SpatialAverageOptions {
  /** The rear wall's set: −90°, 90° and 180°, or all steps of 10° from ±90° to 180°. Default `"all-steps"`. */
  readonly rearWall?: "all-steps" | "three-angles" | undefined;
  /** Early reflections: the mean of the five bounces, each counting once, or the mean of all their angles. Default `"mean-of-bounces"`. */
  readonly earlyReflections?: "mean-of-bounces" | "mean-of-angles" | undefined;
  /** What 0 dB is, in the maps' unit; default 1 (20e-6 for pressures in Pa). */
  readonly reference?: number | undefined;
}

type Entry = readonly [plane: "horizontal" | "vertical", angle: number];
const h = (angle: number): Entry => ["horizontal", angle];
const v = (angle: number): Entry => ["vertical", angle];
const both = (angles: readonly number[]): Entry[] => angles.flatMap((angle) => [h(angle), h(-angle)]);

/** Weights of the sound power per point at 0°, 10° … 90°, from memory; mirrored beyond. */
const powerWeights = [
  0.000604486, 0.004730189, 0.008955027, 0.012387354, 0.014989611, 0.016868154, 0.018165962, 0.019006744, 0.019477787, 0.019629373,
];

const standing = "Spatial averages: angle sets and weights after ANSI/CTA-2034-A as recalled from memory, not checked against its text";

/**
 * Listening window, early reflections, sound power and predicted in-room response, dB, from two full circles in steps of 10° (other steps are
 * interpolated in level). All are means of energy. The angle sets and the weights follow ANSI/CTA-2034-A as recalled from memory and were not
 * checked against its text, as the marks say; weights are divided by their sum. For the power by exact areas see `powerResponse`.
 *
 * @param maps `horizontal` (azimuth positive towards +y) and `vertical` (elevation positive up), with the same frequencies
 * @param options readings of two places where the text is ambiguous, and the `reference` of the levels in the maps' unit (20e-6 for Pa)
 * @returns levels and directivity indices in dB over frequency, and the readings chosen
 * @throws DividingNetworkError when a map is missing or does not reach an angle, of the other plane, frequencies or distances differ, or an option is unknown;
 *   `overflow` when no number can hold a mean square
 * @example
 * ```ts
 * import { pointSource, polarMap, spatialAverages } from "dividing-network/radiation";
 *
 * const averages = spatialAverages({
 *   horizontal: polarMap([pointSource()], [1000]), vertical: polarMap([pointSource()], [1000], { plane: "vertical" }),
 * });
 * averages.predictedInRoom.levelDb; // [-6.0206]
 * ```
 */
export function spatialAverages(
  maps: { readonly horizontal: PolarMap; readonly vertical: PolarMap },
  options: SpatialAverageOptions = {},
): SpatialAverages {
  const caller = "spatialAverages";
  const {
    rearWall: rearGiven,
    earlyReflections: earlyGiven,
    reference = 1,
  } = checkOptions(caller, options, ["rearWall", "earlyReflections", "reference"]);
  const zero = checkNumber(caller, "reference", reference, { min: 1e-100, max: 1e100 }) ** 2;
  const rearReading = checkOneOf(caller, "rearWall", rearGiven ?? "all-steps", ["all-steps", "three-angles"]);
  const earlyReading = checkOneOf(caller, "earlyReflections", earlyGiven ?? "mean-of-bounces", ["mean-of-bounces", "mean-of-angles"]);
  const { horizontal: across, vertical: upright } = checkOptions(caller, maps, ["horizontal", "vertical"]);
  if (across === undefined || upright === undefined)
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "maps" must hold a horizontal and a vertical map`,
      "Two full circles are needed",
    );
  const [horizontal, vertical] = [checkPlaneMap(caller, "horizontal", across), checkPlaneMap(caller, "vertical", upright)];
  if (!sameFrequencies(horizontal.frequencies, vertical.frequencies) || horizontal.distance !== vertical.distance) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "maps" must have the same frequencies and distance, got others`,
      "Bring both to one grid with polarMapFromResponses",
    );
  }
  const { frequencies } = horizontal;
  const marks: Mark[] = [];
  addMarks(marks, horizontal.marks);
  addMarks(marks, vertical.marks);
  addMarks(marks, [{ kind: "model", note: standing }]);
  const rows = new Map<string, Float64Array>();
  const squares = ([plane, angle]: Entry): Float64Array => {
    const key = `${plane} ${angle}`;
    let row = rows.get(key);
    if (row === undefined) rows.set(key, (row = squaresAt(caller, plane === "horizontal" ? horizontal : vertical, angle)));
    return row;
  };
  const mean = (parts: readonly Float64Array[], weights?: readonly number[]): Float64Array => {
    const total = weights === undefined ? parts.length : weights.reduce((sum, weight) => sum + weight, 0);
    return frequencies.map((_, f) => parts.reduce((sum, part, i) => sum + (weights?.[i] ?? 1) * part[f]!, 0) / total);
  };
  const rearSteps = Array.from({ length: 9 }, (_, i) => 90 + 10 * i);
  const sets = {
    listeningWindow: [h(0), ...both([10, 20, 30]), v(10), v(-10)],
    floor: [v(-20), v(-30), v(-40)],
    ceiling: [v(40), v(50), v(60)],
    front: [h(0), ...both([10, 20, 30])],
    side: both([40, 50, 60, 70, 80]),
    rear: rearReading === "all-steps" ? [...both(rearSteps), h(180)] : [h(90), h(-90), h(180)],
  };
  const energy = (set: readonly Entry[]): Float64Array => mean(set.map(squares));
  const window = energy(sets.listeningWindow);
  const bounceSets = [sets.floor, sets.ceiling, sets.front, sets.side, sets.rear];
  const bounces = bounceSets.map(energy);
  const early = earlyReading === "mean-of-bounces" ? mean(bounces) : energy(bounceSets.flat());
  const around = Array.from({ length: 36 }, (_, i) => 10 * i - 170);
  const powerSet = [...around.map(h), ...around.filter((angle) => angle !== 0 && angle !== 180).map(v)];
  const power = mean(
    powerSet.map(squares),
    powerSet.map(([, angle]) => powerWeights[9 - Math.abs(Math.abs(angle) - 90) / 10]!),
  );
  const room = mean([window, early, power], [0.12, 0.44, 0.44]);
  const level = (square: Float64Array): LevelCurve =>
    curveFromSquares(
      caller,
      frequencies,
      square.map((value) => value / zero),
      marks,
    );
  const index = (square: Float64Array): LevelCurve =>
    curve(frequencies, difference(caller, frequencies, level(window).levelDb, level(square).levelDb), marks);
  return Object.freeze({
    onAxis: level(squares(h(0))),
    listeningWindow: level(window),
    floorBounce: level(bounces[0]!),
    ceilingBounce: level(bounces[1]!),
    frontWallBounce: level(bounces[2]!),
    sideWallBounce: level(bounces[3]!),
    rearWallBounce: level(bounces[4]!),
    earlyReflections: level(early),
    soundPower: level(power),
    predictedInRoom: level(room),
    soundPowerDirectivityIndex: index(power),
    earlyReflectionsDirectivityIndex: index(early),
    readings: Object.freeze([
      rearReading === "all-steps" ? "rear wall: all steps of 10° from ±90° to 180°" : "rear wall: −90°, 90° and 180°",
      earlyReading === "mean-of-bounces"
        ? "early reflections: energy mean of the five bounces, each counting once"
        : "early reflections: energy mean of all angles of the five bounces",
      "sound power: 70 points of two circles, recalled weights divided by their sum",
    ]),
  });
}
