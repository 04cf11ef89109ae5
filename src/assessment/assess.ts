import { checkNumber, checkOptions, DividingNetworkError } from "../errors";
import type { Entries } from "../network";
import { commonPlaces, predict, pressureAtPlace, type Loudspeaker, type Prediction } from "../loudspeaker";
import type { FrequencyResponse, Mark } from "../response";
import { checkBand, covered, judged, type Band, type BandText } from "./band";
import { branchesAt } from "./branches";
import { handover, type Handover } from "./handover";
import { loadOf, type Load } from "./load";
import { offAxisChange, sideDifferences, type OffAxisChange, type SideDifference } from "./off-axis";
import { sensitivity, type Sensitivity } from "./sensitivity";
import { smoothness, type Smoothness } from "./smoothness";

/** What `assess` may be told. */
export interface AssessOptions {
  /** Ω: what the loudspeaker is sold or meant as. */
  readonly ratedImpedance: number;
  /** Hz: where smoothness is judged; default 300 Hz to 10 kHz, cut to what was measured. */
  readonly band?: BandText | undefined;
  /** Hz: where sensitivity is averaged; default 300 Hz to 3 kHz, cut to what was measured. */
  readonly sensitivityBand?: BandText | undefined;
  /** m: the distance judged; default the smallest at which the axis was measured. */
  readonly distance?: number | undefined;
  /** Hz: the centre of the region in which off-axis changes are judged; default the loudspeaker's own main crossover. */
  readonly crossoverRegion?: number | undefined;
}

/** The numbers by which one loudspeaker is judged. */
export interface Assessment {
  /** Of a network whose names the types no longer know: assessments of different networks are compared. */
  readonly prediction: Prediction;
  /** Ω. */
  readonly ratedImpedance: number;
  /** m. */
  readonly distance: number;
  readonly band: Band;
  readonly sensitivityBand: Band;
  readonly sensitivity: Sensitivity;
  readonly smoothness: Smoothness;
  /** Each pair of neighbouring branches, from low to high. */
  readonly handovers: readonly (Handover & { readonly lower: string; readonly upper: string })[];
  readonly offAxis: readonly OffAxisChange[];
  readonly sides: readonly SideDifference[];
  readonly load: Load;
  /** How the response on the axis changes with distance: against each other measured distance, dB standard deviation of the level difference. */
  readonly distances: readonly { readonly distance: number; readonly spreadDb: number }[];
  /** What must be known of the data behind all this. */
  readonly marks: readonly Mark[];
}

/**
 * Judges one loudspeaker by numbers: sensitivity and smoothness on the axis (dB), how each branch hands over to the next
 * (Hz, octaves, dB per octave, degrees), what changes off the axis and between the sides (dB), and the load (Ω).
 *
 * @param loudspeaker network, drivers where they sit, and the source
 * @param options `ratedImpedance` in Ω; bands in Hz; `distance` in m; `crossoverRegion` in Hz
 * @returns the numbers, with the prediction (Pa) from which they come
 * @throws DividingNetworkError `no-crossover`, `not-measured`, `invalid-argument`, and what `predict` throws
 * @example
 * ```ts
 * import { capacitor, frequencyResponse, inductor, logGrid, loudspeaker, pressurePerVolt, resistor } from "dividing-network";
 * import { assess } from "dividing-network/assessment";
 *
 * const grid = logGrid(100, 20_000, 400);
 * const ideal = pressurePerVolt({ response: frequencyResponse(grid, grid.map(() => 0.1), grid.map(() => 0)), drive: { voltage: 1, at: "terminals" }, distance: 1, timeZero: "common" });
 * const pair = loudspeaker({
 *   network: { L1: [inductor("0.4244 mH"), "in", "w"], woofer: [resistor(8), "w", "gnd"], C1: [capacitor("6.631 µF"), "in", "t"], tweeter: [resistor(8), "t", "gnd"] },
 *   drivers: [{ name: "woofer", role: "woofer", pressures: [ideal] }, { name: "tweeter", role: "tweeter", pressures: [ideal] }],
 * });
 * assess(pair, { ratedImpedance: 8 }).handovers[0]?.overlapOctaves; // 3.32
 * ```
 */
export function assess<T extends Entries>(loudspeaker: Loudspeaker<T>, options: AssessOptions): Assessment {
  const caller = "assess";
  checkOptions(caller, options, ["ratedImpedance", "band", "sensitivityBand", "distance", "crossoverRegion"]);
  const ratedImpedance = checkNumber(caller, "ratedImpedance", options.ratedImpedance, { above: 0, unit: "Ω" });
  const places = commonPlaces(loudspeaker);
  const axes = places.filter(({ azimuth, elevation }) => azimuth === 0 && elevation === 0);
  if (axes.length === 0) throw new DividingNetworkError("not-measured", `${caller}: no distance has a measurement of every driver on the axis (azimuth 0°, elevation 0°)`, "Measure each driver alone on the axis");
  const distance = checkNumber(caller, "distance", options.distance ?? Math.min(...axes.map((place) => place.distance)), { above: 0, unit: "m" });
  // Each distance has a gate of its own, and so a band of its own.
  const prediction = predict(loudspeaker, { places: places.filter((place) => Math.abs(place.distance - distance) < 1e-3) });
  const axis = pressureAtPlace(prediction, { distance, azimuth: 0, elevation: 0 });
  const band = cut(caller, "band", options.band, { from: 300, to: 10_000 }, axis.sum);
  const sensitivityBand = cut(caller, "sensitivityBand", options.sensitivityBand, { from: 300, to: 3000 }, axis.sum);
  const branches = branchesAt(prediction, axis);
  const handovers = branches.slice(1).map((upper, index) => {
    const lower = branches[index]!;
    return Object.freeze({ lower: lower.part, upper: upper.part, ...handover(lower.response, upper.response) });
  });
  const main = options.crossoverRegion ?? handovers[handovers.length - 1]?.frequency ?? 1000;
  return Object.freeze({
    prediction: prediction,
    ratedImpedance,
    distance,
    band,
    sensitivityBand,
    sensitivity: sensitivity(axis.sum, { band: sensitivityBand, ratedImpedance, voltage: prediction.voltage }),
    smoothness: smoothness(axis.sum, { band }),
    handovers: Object.freeze(handovers),
    offAxis: offAxisChange(prediction, { distance, centre: main }),
    sides: sideDifferences(prediction, { distance, centre: main }),
    load: loadOf(loudspeaker, { ratedImpedance }),
    distances: Object.freeze(axes.filter((other) => Math.abs(other.distance - distance) >= 1e-3).map((other) => Object.freeze({ distance: other.distance, spreadDb: spreadDb(axis.sum, pressureAtPlace(predict(loudspeaker, { places: [other] }), other).sum, band) }))),
    marks: axis.sum.marks ?? [],
  });
}

/** A band as asked for; when it was left to us, the part of it that was measured. */
function cut(caller: string, argument: string, given: BandText | undefined, otherwise: Band, response: FrequencyResponse): Band {
  if (given !== undefined) return checkBand(caller, argument, given);
  const band = covered(otherwise, response);
  if (band !== undefined) return band;
  throw new DividingNetworkError("band-too-narrow", `${caller}: the measurements cover too little of ${otherwise.from} Hz to ${otherwise.to} Hz`, `State "${argument}"`);
}

/** Standard deviation of the level difference of two responses over what both cover of a band, dB. */
function spreadDb(a: FrequencyResponse, b: FrequencyResponse, within: Band): number {
  const first = covered(within, a);
  const both = first === undefined ? undefined : covered(first, b);
  if (both === undefined) return 0;
  const [here, there] = [judged(a, both).levelDb, judged(b, both).levelDb];
  const difference = here.map((level, index) => level - there[index]!);
  const mean = difference.reduce((sum, value) => sum + value, 0) / difference.length;
  return Math.sqrt(difference.reduce((sum, value) => sum + (value - mean) ** 2, 0) / difference.length);
}
