import { DividingNetworkError } from "../errors";
import { checkList, checkNumber, checkObject, checkOptions, owned, show } from "../errors/internal";
import { compile, type Entries } from "../network";
import { predict, type Loudspeaker } from "../loudspeaker";
import { checkLoudspeaker, samePlace } from "../loudspeaker/internal";
import { magnitude, resample, type FrequencyResponse } from "../response";
import { checkResponse } from "../response/internal";
import { anchoredGrid, covered, judged, type Band } from "./band";

/** A measurement of the whole loudspeaker through the network as found. */
export interface WholeMeasurement {
  /** m and degrees. */
  readonly distance: number;
  /** Degrees, positive towards the loudspeaker's own left. */
  readonly azimuth: number;
  /** Degrees, positive up. */
  readonly elevation: number;
  /** Pa at the microphone. */
  readonly response: FrequencyResponse;
  /** V rms of the source, open circuit. */
  readonly voltage: number;
  /**
   * Whether its phase counts from the instant that the drivers' measurements share; default true where the response holds a phase. Where it doesn't, only levels are
   * compared.
   */
  readonly timed?: boolean | undefined;
}

/** How far the prediction is from the measurement in one octave band. */
export interface BandResidual {
  /** Hz. */
  readonly centre: number;
  /** dB, root mean square of predicted less measured level over points and places. */
  readonly levelDb?: number;
  /** Ω, root mean square of |predicted − measured| of the complex impedance. */
  readonly impedance?: number;
}

/** The residual of the model, by octave band and over all. */
export interface ModelCheck {
  /** The residuals band by band, low to high. */
  readonly bands: readonly BandResidual[];
  /** dB, root mean square over everything compared; absent when no pressure of the whole was measured. */
  readonly levelDb?: number;
  /** Degrees, what the complex difference of the pressures amounts to as an angle; absent like `levelDb`. */
  readonly angleDegrees?: number;
  /** Ω, over everything compared; absent when the whole's impedance wasn't measured. */
  readonly impedance?: number;
  /** How many places were compared. */
  readonly places: number;
  /** What the prediction was compared with. */
  readonly measured: {
    /** The whole loudspeaker, place by place. */
    readonly pressures: readonly WholeMeasurement[];
    /** Ω at its terminals; absent when it wasn't measured. */
    readonly impedance?: FrequencyResponse;
  };
}

/**
 * Predicts what was measured of the whole loudspeaker with the network as found, and reports by how much the prediction
 * misses: level in dB and impedance in Ω, by octave band. What is smaller than this can't be decided by the model.
 *
 * @param loudspeaker the loudspeaker with the network as found
 * @param measured `pressures` of the whole (Pa, with place in m and degrees and the source's V) and its `impedance` (Ω)
 * @returns residuals in dB, degrees and Ω, by band (centres in Hz)
 * @throws DividingNetworkError `not-measured` when the whole was measured where a driver wasn't, or what was measured is 0, and what `predict` throws
 * @example
 * ```ts
 * import { frequencyResponse, loudspeaker, logGrid, pressurePerVolt, resistor } from "dividing-network";
 * import { checkModel } from "dividing-network/assessment";
 *
 * const grid = logGrid(100, 10_000, 200);
 * const one = frequencyResponse(grid, grid.map(() => 1), grid.map(() => 0));
 * const box = loudspeaker({ network: { cone: [resistor(8), "in", "gnd"] }, drivers: [{ name: "cone", pressures: [pressurePerVolt({ response: one, drive: { voltage: 1, at: "terminals" }, distance: 1, timeZero: "common" })] }] });
 * const whole = { distance: 1, azimuth: 0, elevation: 0, response: one, voltage: 2 };
 * checkModel(box, { pressures: [whole] }).levelDb; // 6.0206
 * ```
 */
export function checkModel<T extends Entries>(loudspeaker: Loudspeaker<T>, measured: ModelCheck["measured"]): ModelCheck {
  const box = checkLoudspeaker("checkModel", loudspeaker);
  const known = checkMeasured("checkModel", measured);
  const levels = new Tally();
  const ohms = new Tally();
  let [wrong, total, compared] = [0, 0, 0];
  for (const whole of known.pressures) {
    const known = box.drivers.every(({ pressures }) => pressures.some((pressure) => samePlace(pressure, whole)));
    if (!known) {
      throw new DividingNetworkError(
        "not-measured",
        `checkModel: the whole was measured at ${whole.distance} m, azimuth ${whole.azimuth}°, elevation ${whole.elevation}°, but not every driver alone was`,
        "Measure each driver alone there, or leave this place out",
      );
    }
    const [place] = predict(box, { places: [whole], voltage: whole.voltage }).places;
    const overlap: Band | undefined = covered(
      { from: Math.max(20, place!.sum.frequencies[0]!), to: place!.sum.frequencies[place!.sum.frequencies.length - 1]! },
      whole.response,
    );
    if (overlap === undefined) continue;
    compared++;
    const [a, b] = [judged(place!.sum, overlap), judged(whole.response, overlap)];
    a.frequencies.forEach((frequency, i) => {
      levels.add(frequency, (a.levelDb[i]! - b.levelDb[i]!) ** 2);
      wrong += (a.response.re[i]! - b.response.re[i]!) ** 2 + (a.response.im[i]! - b.response.im[i]!) ** 2;
      total += b.response.re[i]! ** 2 + b.response.im[i]! ** 2;
    });
  }
  const { impedance } = known;
  if (impedance !== undefined) {
    const grid = anchoredGrid(
      { from: Math.max(20, impedance.frequencies[0]!), to: Math.min(20_000, impedance.frequencies[impedance.frequencies.length - 1]!) },
      24,
    );
    const [a, b] = [compile<Entries>(box.network).sweep(grid).impedance, resample(impedance, grid, { delay: 0 })];
    grid.forEach((frequency, i) => ohms.add(frequency, (a.re[i]! - b.re[i]!) ** 2 + (a.im[i]! - b.im[i]!) ** 2));
  }
  const centres = [...new Set([...levels.centres(), ...ohms.centres()])].sort((a, b) => a - b);
  const level = levels.root();
  const ohm = ohms.root();
  return Object.freeze({
    bands: Object.freeze(
      centres.map((centre) => {
        const [inBand, ofImpedance] = [levels.root(centre), ohms.root(centre)];
        return Object.freeze({
          centre,
          ...(inBand === undefined ? {} : { levelDb: inBand }),
          ...(ofImpedance === undefined ? {} : { impedance: ofImpedance }),
        });
      }),
    ),
    ...(level === undefined ? {} : { levelDb: level, angleDegrees: (Math.atan(Math.sqrt(wrong / total)) * 180) / Math.PI }),
    ...(ohm === undefined ? {} : { impedance: ohm }),
    places: compared,
    measured: known,
  });
}

/** What was measured of the whole, each response looked at, none of it the caller's any more. */
export function checkMeasured(caller: string, value: ModelCheck["measured"], called = "measured"): ModelCheck["measured"] {
  const { pressures, impedance } = checkOptions(caller, value, ["pressures", "impedance"]);
  const list = checkList(caller, `${called}.pressures`, pressures, "{ distance, azimuth, elevation, response, voltage }");
  return Object.freeze({
    pressures: Object.freeze(
      list.map((whole, index) => {
        const argument = `${called}.pressures[${index}]`;
        checkObject(caller, argument, whole, "{ distance, azimuth, elevation, response, voltage }");
        const { distance, azimuth, elevation, response, voltage } = whole;
        checkNumber(caller, `${argument}.distance`, distance, { above: 0, unit: "m" });
        checkNumber(caller, `${argument}.azimuth`, azimuth, { unit: "degrees" });
        checkNumber(caller, `${argument}.elevation`, elevation, { unit: "degrees" });
        checkNumber(caller, `${argument}.voltage`, voltage, { above: 0, unit: "V" });
        if (whole.timed !== undefined && typeof whole.timed !== "boolean")
          throw new DividingNetworkError(
            "invalid-argument",
            `${caller}: "${argument}.timed" must be true or false, got ${show(whole.timed)}`,
          );
        return owned({ ...whole, response: checkHeard(caller, `${argument}.response`, response) });
      }),
    ),
    ...(impedance === undefined ? {} : { impedance: checkOhms(caller, `${called}.impedance`, impedance) }),
  });
}

/** A pressure of which something was heard: what is 0 everywhere is a file read wrongly, and no decibels lead from it. */
export function checkHeard(caller: string, argument: string, value: unknown): FrequencyResponse {
  const response = checkResponse(caller, argument, value);
  if (magnitude(response).some((size) => size > 0)) return response;
  throw new DividingNetworkError(
    "not-measured",
    `${caller}: "${argument}" must not be 0 everywhere: nothing was heard`,
    "Look whether the right file was read",
  );
}

/** Ω: less, or more, than any instrument tells from a short, or from nothing at all. */
const [LEAST_OHMS, MOST_OHMS] = [1e-6, 1e12];

/** An impedance that can have been measured: beside 0 Ω, or beyond what a number holds, nothing can be compared. */
export function checkOhms(caller: string, argument: string, value: unknown): FrequencyResponse {
  const response = checkResponse(caller, argument, value);
  const { frequencies } = response;
  const size = magnitude(response);
  const wrong = size.findIndex((ohms, index) => frequencies[index]! > 0 && !(ohms >= LEAST_OHMS && ohms <= MOST_OHMS));
  if (wrong < 0) return response;
  throw new DividingNetworkError(
    "not-measured",
    size[wrong] === 0
      ? `${caller}: "${argument}" must not be 0, got 0 Ω at ${frequencies[wrong]} Hz`
      : `${caller}: "${argument}" must lie between 1 µΩ and 1 TΩ, got ${size[wrong]} Ω at ${frequencies[wrong]} Hz`,
    "Leave out the frequencies at which nothing was measured",
  );
}

/** Mean squares by octave band with centres at 1 kHz times powers of two. */
class Tally {
  private readonly sums = new Map<number, [sum: number, count: number]>();

  add(frequency: number, square: number): void {
    const centre = 1000 * 2 ** Math.round(Math.log2(frequency / 1000));
    const [sum, count] = this.sums.get(centre) ?? [0, 0];
    this.sums.set(centre, [sum + square, count + 1]);
  }

  centres(): readonly number[] {
    return [...this.sums.keys()];
  }

  root(centre?: number): number | undefined {
    let [sum, count] = [0, 0];
    for (const [at, [s, c]] of this.sums) {
      if (centre !== undefined && at !== centre) continue;
      sum += s;
      count += c;
    }
    return count === 0 ? undefined : Math.sqrt(sum / count);
  }
}
