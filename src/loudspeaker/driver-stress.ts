import { checkOptions } from "../errors/internal";
import { compile, stress, type Entries, type PowerStress, type Stress, type StressOptions } from "../network";
import { laidSpectrum, peakOf, spectrumShares } from "../network/internal";
import { logGrid } from "../numeric";
import { displacementPerVolt } from "../parts";
import { magnitude, multiplyResponses, scaleResponse, type FrequencyResponse } from "../response";
import { checkLoudspeaker } from "./check-loudspeaker";
import { PER_OCTAVE, reliefOf, type DriverRelief } from "./driver-relief";
import type { DriverRatings, Loudspeaker, PlacedDriver } from "./loudspeaker-data";

/** An amplifier's level and what it plays: see `StressOptions`. What stands between it and the network, the loudspeaker knows. */
export type DriveLevel = Omit<StressOptions, "sourceImpedance">;

/** How far a cone moves, m to one side. */
export interface ExcursionStress {
  /** m rms under the signal; of a sine, where it is worst. */
  readonly rms: number;
  /** m: peak under the signal, its crest factor times the rms. */
  readonly peak: number;
  /** m: peak of a full sine where it is worst. */
  readonly sinePeak: number;
  /** Hz, where. */
  readonly frequency: number;
  /** m: peak of a full sine at every frequency, with its phase. */
  readonly response: FrequencyResponse;
}

/** What a driver has to stand. */
export interface DriverStress {
  /** The driver's name. */
  readonly driver: string;
  /** Its part in the network. */
  readonly part: string;
  /** W of heat in the voice coil; where its resistance isn't known, all that the driver takes, which is more. */
  readonly power: PowerStress;
  /** What `power` is. */
  readonly powerOf: "voice coil" | "driver";
  /** m; absent where what moves the cone isn't known. */
  readonly excursion?: ExcursionStress;
  /** W and m that it may stand, as stated. */
  readonly ratings: DriverRatings;
  /** Which limit comes first as the level rises, and the V rms of the amplifier's largest sine at which it is reached; absent where none is known. */
  readonly first?: {
    /** Heat, or excursion. */
    readonly limit: "power" | "excursion";
    /** V rms. */
    readonly voltage: number;
  };
  /** What would bring it back, where the level is beyond the first limit. */
  readonly relief?: DriverRelief;
}

/**
 * What each driver has to stand through its network at a stated amplifier level: watts of heat in the voice coil and the cone's excursion, under the signal
 * and at the worst frequency of a full sine; which of its limits comes first and at which level; what would bring it back.
 * Excursion follows the square of the wavelength: a tweeter's is worst near its resonance, far below its passband.
 *
 * @param loudspeaker network, drivers and source; `motion` and `ratings` of its drivers where they are known
 * @param options `voltage` of the amplifier's largest sine in V rms; `spectrum` and `crestFactor` as for `stress`
 * @returns for each driver W, m and V; what isn't known is absent
 * @throws DividingNetworkError what `stress` throws
 * Validity: small-signal motion in free air or a closed box; drivers that share one part are each taken to get all of it.
 * @example
 * ```ts
 * import { capacitor, driverImpedance, frequencyResponse, loudspeaker, pressurePerVolt } from "dividing-network";
 * import { driverStress } from "dividing-network/loudspeaker";
 *
 * const dome = { re: 5.1, fs: "820 Hz", qms: 2.1, qes: 1.4 } as const;
 * const heard = pressurePerVolt({ response: frequencyResponse([500, 1000], [1, 1], [0, 0]), drive: { voltage: 1, at: "terminals" }, distance: 1, timeZero: "common" });
 * const box = loudspeaker({
 *   network: { C1: [capacitor("6.8 µF"), "in", "d"], tweeter: [driverImpedance(dome), "d", "gnd"] },
 *   drivers: [{ name: "tweeter", pressures: [heard], motion: { ...dome, mms: "0.3 g" }, ratings: { power: "15 W", excursion: "0.4 mm" } }],
 * });
 * const [tweeter] = driverStress(box, { voltage: "20 V" });
 * tweeter?.first?.limit; // "excursion"
 * ```
 */
export function driverStress<T extends Entries>(loudspeaker: Loudspeaker<T>, options: DriveLevel): readonly DriverStress[] {
  const box = checkLoudspeaker("driverStress", loudspeaker) as unknown as Loudspeaker;
  const level = checkOptions("driverStress", options, ["voltage", "spectrum", "crestFactor"]);
  return driversUnder(box, stress<Entries>(box.network, { ...level, sourceImpedance: box.sourceImpedance }), level.spectrum);
}

/** The drivers of a loudspeaker whose network was put under a signal. */
export function driversUnder(box: Loudspeaker, under: Stress, spectrum: StressOptions["spectrum"] = "programme"): readonly DriverStress[] {
  const { from, to } = under.band;
  const grid = logGrid(from, to, Math.max(3, Math.ceil(PER_OCTAVE * Math.log2(to / from)) + 1));
  const sweep = compile<Entries>(box.network).sweep(grid, { sourceImpedance: box.sourceImpedance });
  const shares = spectrumShares(laidSpectrum("driverStress", spectrum), grid);
  return Object.freeze(
    box.drivers.map((driver) =>
      underOne(driver, under, sweep.voltage(driver.part), sweep.current(driver.part), shares, spectrum === "sine"),
    ),
  );
}

function underOne(
  { name, part, motion, ratings = {} }: PlacedDriver,
  under: Stress,
  terminals: FrequencyResponse,
  current: FrequencyResponse,
  shares: Float64Array,
  tone: boolean,
): DriverStress {
  const { voltage, signalVoltage, crestFactor, parts } = under;
  const meanSquare = (size: Float64Array, worst = size.reduce((most, value) => Math.max(most, value * value), 0)) =>
    tone ? worst : size.reduce((sum, value, i) => sum + value * value * shares[i]!, 0);
  const own = parts[part]!;
  const power = own.voiceCoil ?? (motion === undefined ? own.power : heatIn(motion.re));
  const excursion = motion === undefined ? undefined : excursionOf(displacementPerVolt(terminals.frequencies, motion));
  const reached = [
    ...(ratings.power === undefined || !(power.mean > 0)
      ? []
      : [{ limit: "power" as const, voltage: voltage * Math.sqrt(ratings.power / power.mean) }]),
    ...(ratings.excursion === undefined || excursion === undefined || !(excursion.peak > 0)
      ? []
      : [{ limit: "excursion" as const, voltage: voltage * (ratings.excursion / excursion.peak) }]),
  ];
  const first = reached.length === 0 ? undefined : reached.reduce((least, each) => (each.voltage < least.voltage ? each : least));
  return Object.freeze({
    driver: name,
    part,
    power,
    powerOf: own.voiceCoil === undefined && motion === undefined ? "driver" : "voice coil",
    ratings,
    ...(excursion === undefined ? {} : { excursion }),
    ...(first === undefined ? {} : { first: Object.freeze(first) }),
    ...(first === undefined || first.voltage >= voltage
      ? {}
      : {
          relief: reliefOf(
            voltage / first.voltage,
            first.limit === "excursion" && motion !== undefined
              ? { moved: magnitude(displacementPerVolt(terminals.frequencies, motion)), volts: magnitude(terminals), meanSquare }
              : undefined,
          ),
        }),
  });

  /** W in a resistance that the impedance doesn't tell, by the current. */
  function heatIn(ohms: number): PowerStress {
    const size = magnitude(current);
    const worst = peakOf(
      current.frequencies,
      size.map((value) => value * value),
    );
    return Object.freeze({
      mean: meanSquare(size, worst.value) * signalVoltage ** 2 * ohms,
      sine: worst.value * voltage ** 2 * ohms,
      frequency: worst.frequency,
    });
  }

  function excursionOf(perVolt: FrequencyResponse): ExcursionStress {
    const moved = multiplyResponses(terminals, perVolt);
    const size = magnitude(moved);
    const worst = peakOf(
      moved.frequencies,
      size.map((value) => value * value),
    );
    const rms = Math.sqrt(meanSquare(size, worst.value)) * signalVoltage;
    return Object.freeze({
      rms,
      peak: crestFactor * rms,
      sinePeak: Math.SQRT2 * Math.sqrt(worst.value) * voltage,
      frequency: worst.frequency,
      response: scaleResponse(moved, Math.SQRT2 * voltage),
    });
  }
}
