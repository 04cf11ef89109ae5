import { DividingNetworkError } from "../errors";
import { checkList, checkOptions, shown, type Views } from "../errors/internal";
import { compile, type CheckedShape, type Entries, type NodeOrPartName } from "../network";
import { formatQuantity, type Voltage } from "../quantity";
import { inSi } from "../quantity/internal";
import { measuredImpedance } from "../parts/internal";
import { DRIVE_VOLTAGE, pointInDirection, type Point } from "../physics";
import { checkAir } from "../physics/internal";
import { addResponses, delayResponse, multiplyResponses, resample, scaleResponse, type FrequencyResponse } from "../response";
import { checkedGrid, freezeResponse } from "../response/internal";
import { checkLoudspeaker } from "./check-loudspeaker";
import type { Loudspeaker, PlacedDriver } from "./loudspeaker-data";
import { checkPlace, checkPlaces, commonPlaces, notMeasured } from "./place";
import { samePlace } from "./same-place";
import type { AskedPlace, Place } from "./loudspeaker-data";
import type { PressurePerVolt } from "./pressure-per-volt";
import { partOf, predictionGrid, sameEverywhere } from "./prediction-grid";
import { predictionViews, pressureAtPlaceViews } from "./views";
import type { PressureAtPlace, Prediction } from "./prediction";

/** What `predict` may be told. */
export interface PredictOptions {
  /** Hz, strictly ascending; default: the drivers' own grid where they share one, else 48 points per octave of the band that some place covers and over which measured impedances are known; each place then has the part of it that all drivers cover there. */
  readonly frequencies?: ArrayLike<number> | undefined;
  /** V rms, open-circuit; default 2.83 V. */
  readonly voltage?: Voltage | undefined;
  /** The places asked for; each must have been measured for every driver. Default: all such places. */
  readonly places?: readonly AskedPlace[] | undefined;
}

/**
 * The sound pressure of a loudspeaker, as a sum of complex pressures and branch by branch: each driver's measured pressure
 * per volt times the voltage that the network gives it. Only places that were measured are answered: what lies between or
 * beyond isn't guessed. Drivers that share another's measurement get the difference of path, and a mark that says so.
 *
 * @param loudspeaker network, drivers and source
 * @param options `frequencies` in Hz; `voltage` of the source in V rms (default 2.83 V); `places` in m and degrees
 * @returns pressures in Pa at each place, the network's sweep, and the grid in Hz
 * @throws DividingNetworkError `not-measured`, `no-common-time-zero`, `outside-band`, and what `solve` throws
 * @example
 * ```ts
 * import { frequencyResponse, loudspeaker, predict, pressurePerVolt, resistor } from "dividing-network";
 *
 * const cone = pressurePerVolt({ response: frequencyResponse([500, 1000], [1, 1], [0, 0]), drive: { voltage: 1, at: "terminals" }, distance: 1, timeZero: "common" });
 * const box = loudspeaker({ network: { woofer: [resistor(8), "in", "gnd"] }, drivers: [{ name: "woofer", pressures: [cone] }] });
 * predict(box, { voltage: 2 }).places[0]?.sum.re; // [2, 2]
 * ```
 */
export function predict<T extends Entries>(loudspeaker: Loudspeaker<T>, options: PredictOptions = {}): Prediction<T> {
  const caller = "predict";
  const box = checkLoudspeaker(caller, loudspeaker);
  const {
    frequencies,
    voltage: asked = DRIVE_VOLTAGE,
    places: wanted,
  } = checkOptions(caller, options, ["frequencies", "voltage", "places"]);
  const places =
    wanted === undefined
      ? commonPlaces(box)
      : checkList(caller, "places", wanted, "places").map((place, at) => checkPlace(caller, place, `places[${at}]`));
  const voltage = inSi(caller, "voltage", asked, "V", { above: 0 });
  // Nothing of a network is read before it has been looked at.
  const compiled = compile<T>(box.network as CheckedShape<T>);
  const { grid, ofPlace } =
    frequencies === undefined
      ? predictionGrid(
          places.map((place) => box.drivers.map((driver) => measuredAt(driver, place).response)),
          impedancesOf(box),
        )
      : sameEverywhere(checkedGrid(caller, frequencies), places.length);
  const sweep = compiled.sweep(grid, box.sourceImpedance === undefined ? {} : { sourceImpedance: box.sourceImpedance });
  const drives = box.drivers.map((driver) => scaleResponse(sweep.voltage(driver.part as NodeOrPartName<T>), voltage));
  const predicted = places.map((place, at) => {
    const own = ofPlace[at]!;
    const branches = pressuresAt(caller, box, place, own).map((pressure, index) =>
      multiplyResponses(pressure, partOf(drives[index]!, own)),
    );
    const sum = branches.length === 1 ? branches[0]! : addResponses(...branches);
    const byName = Object.freeze(Object.fromEntries(box.drivers.map(({ name }, index) => [name, branches[index]!])));
    return Object.freeze(shown<PressureAtPlace>({ ...place, sum, branches: byName }, pressureAtPlaceViews));
  });
  const prediction: Prediction<T> = { loudspeaker: box, frequencies: grid, voltage, sweep, places: Object.freeze(predicted) };
  return Object.freeze(shown(prediction, predictionViews as unknown as Views<Prediction<T>>));
}

/** Ω: what was measured of the network's parts and of the source. */
function impedancesOf({ network, sourceImpedance }: Loudspeaker): readonly FrequencyResponse[] {
  const measured = Object.values(network).flatMap(([part]) => measuredImpedance(part) ?? []);
  return typeof sourceImpedance === "object" && "frequencies" in sourceImpedance ? [...measured, sourceImpedance] : measured;
}

/** What each driver gives at one place on a grid of frequencies, Pa per volt at its own terminals, in the order of the drivers. */
export function pressuresAt(caller: string, box: Loudspeaker, place: Place, grid: Float64Array): readonly FrequencyResponse[] {
  return box.drivers.map((driver) => {
    const pressure = measuredAt(driver, place);
    checkCentre(box.drivers[0]!, driver, place);
    if (box.drivers.length > 1 && !pressure.timed) {
      throw new DividingNetworkError(
        "no-common-time-zero",
        `${caller}: ${pressure.label} (${driver.name}) shares no time zero with the other drivers, so that their pressures can't be added`,
        "State its delay against the others, or fit it from each driver alone and both together",
      );
    }
    return moved(box, driver, pressure, onGrid(box, pressure, grid));
  });
}

/**
 * What a prediction holds for one place.
 *
 * @param prediction from `predict`
 * @param place distance in m, azimuth and elevation in degrees
 * @returns the sum and the branches there, Pa
 * @throws DividingNetworkError `not-measured` naming the places that exist
 * @example
 * ```ts
 * import { frequencyResponse, loudspeaker, predict, pressureAtPlace, pressurePerVolt, resistor } from "dividing-network";
 *
 * const cone = pressurePerVolt({ response: frequencyResponse([500, 1000], [1, 1], [0, 0]), drive: { voltage: 1, at: "terminals" }, distance: 1, timeZero: "common" });
 * const box = loudspeaker({ network: { woofer: [resistor(8), "in", "gnd"] }, drivers: [{ name: "woofer", pressures: [cone] }] });
 * pressureAtPlace(predict(box), { distance: 1, azimuth: 0, elevation: 0 }).sum.re[0]; // 2.83
 * ```
 */
export function pressureAtPlace<P extends Place>(prediction: { readonly places: readonly P[] }, place: AskedPlace): P {
  const places = checkPlaces("pressureAtPlace", prediction);
  const asked = checkPlace("pressureAtPlace", place);
  const found = places.find((candidate) => samePlace(candidate, asked));
  if (found !== undefined) return found;
  throw notMeasured("pressureAtPlace", asked, places, "this prediction");
}

function measuredAt(driver: PlacedDriver, place: Place): PressurePerVolt {
  const found = driver.pressures.find((pressure) => samePlace(pressure, place));
  if (found !== undefined) return found;
  throw notMeasured("predict", place, driver.pressures, driver.name);
}

/** The same distance and angles about another rotation centre are another place of the microphone. */
function checkCentre(first: PlacedDriver, driver: PlacedDriver, place: Place): void {
  const [a, b] = [measuredAt(first, place).rotationCentre, measuredAt(driver, place).rotationCentre];
  if (Math.hypot(...minus(a, b)) < 1e-3) return;
  throw new DividingNetworkError(
    "not-measured",
    `predict: ${driver.name} was turned about [${b.join(", ")}] m, ${first.name} about [${a.join(", ")}] m, so that the same angles are different places`,
    "Measure all drivers about one rotation centre, or add them with sourcesOf",
  );
}

const hertz = (frequency: number): string => formatQuantity(frequency, "Hz", { digits: 6 });

function onGrid({ drivers }: Loudspeaker, pressure: PressurePerVolt, grid: Float64Array): FrequencyResponse {
  const { response, label } = pressure;
  const same = response.frequencies.length === grid.length && response.frequencies.every((frequency, index) => frequency === grid[index]);
  // One array for the whole prediction, so that arithmetic sees one grid.
  if (same) return freezeResponse(grid, response.re, response.im, response.marks);
  try {
    return resample(response, grid);
  } catch (error) {
    if (!(error instanceof DividingNetworkError)) throw error;
    if (error.code !== "outside-band") throw new DividingNetworkError(error.code, `${label}: ${error.message}`);
    const measured = drivers.flatMap(({ pressures }) => pressures.map((each) => each.response.frequencies));
    const [from, to] = [Math.max(...measured.map((each) => each[0]!)), Math.min(...measured.map((each) => each[each.length - 1]!))];
    throw new DividingNetworkError(
      "outside-band",
      `predict: "frequencies" must lie within what ${label} holds, ${hertz(response.frequencies[0]!)} to ${hertz(response.frequencies.at(-1)!)}, got ${hertz(grid[0]!)} to ${hertz(grid[grid.length - 1]!)}`,
      from < to
        ? `All that was measured holds ${hertz(from)} to ${hertz(to)}; without "frequencies" each place has its own band`
        : 'Leave "frequencies" out: then each place has its own band',
    );
  }
}

/** Turn (seen from the driver) beyond which another driver's measurement no longer stands for this one's. */
const LARGEST_TURN = 10;

/** A driver that shares another's measurement: the difference of path, level and delay, and a mark that it is a model. */
function moved({ air }: Loudspeaker, driver: PlacedDriver, pressure: PressurePerVolt, response: FrequencyResponse): FrequencyResponse {
  const { position, measuredAt: origin } = driver;
  if (position.every((value, axis) => value === origin[axis])) return response;
  const microphone = pointInDirection(
    { azimuth: pressure.azimuth, elevation: pressure.elevation },
    pressure.distance,
    pressure.rotationCentre,
  );
  const [near, far] = [minus(microphone, origin), minus(microphone, position)];
  const [was, is] = [Math.hypot(...near), Math.hypot(...far)];
  const cosine = (near[0] * far[0] + near[1] * far[1] + near[2] * far[2]) / (was * is);
  const turn = (Math.acos(Math.min(1, cosine)) * 180) / Math.PI;
  if (turn > LARGEST_TURN) {
    throw new DividingNetworkError(
      "not-measured",
      `predict: ${driver.name} shares a measurement, but sees this microphone ${turn.toFixed(1)}° from where the measured driver saw it (at most ${LARGEST_TURN}°)`,
      "Measure it by itself, or from farther away",
    );
  }
  const placed = scaleResponse(delayResponse(response, (is - was) / checkAir("predict", air).speedOfSound), was / is);
  const note = `${driver.name} is taken from another driver's measurement, moved by ${Math.hypot(...minus(position, origin)).toFixed(3)} m`;
  return freezeResponse(placed.frequencies, placed.re, placed.im, [...(placed.marks ?? []), { kind: "model", note }]);
}

function minus(a: Point, b: Point): [number, number, number] {
  return [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
}
