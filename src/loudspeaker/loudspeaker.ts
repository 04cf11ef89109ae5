import { DividingNetworkError } from "../errors";
import { checkList, proved, checkOneOf, checkOptions, owned, show, shown, type Views } from "../errors/internal";
import { compile, type Entries, type PartName, type SourceImpedance } from "../network";
import { sourceLaw } from "../network/internal";
import type { DriverMotionOptions } from "../parts";
import type { Air, GivenPoint, Point } from "../physics";
import { checkAir, pointInSi } from "../physics/internal";
import { driverFacts, type DriverRatingsOptions } from "./driver-facts";
import { checkPressure } from "./check-pressure";
import { checkMeasuredOnce } from "./measured-once";
import type { PressurePerVolt } from "./pressure-per-volt";
import { loudspeakerViews } from "./views";
import type { DriverRole, Loudspeaker } from "./loudspeaker-data";

/** What `loudspeaker` takes. */
export interface LoudspeakerOptions<T extends Entries> {
  /** A network whose parts include the drivers. */
  readonly network: T;
  /** The drivers: what each is called, where it sits, and what was measured of it. */
  readonly drivers: readonly {
    /** The driver's own name; also its designator, unless `part` says otherwise. */
    readonly name: string;
    /** The part of the network at whose terminals it hangs. */
    readonly part?: PartName<T> | undefined;
    /** What it is for; default `"full-range"`. */
    readonly role?: DriverRole | undefined;
    /** m: x towards the listener, y to the loudspeaker's own left, z up; default the origin. */
    readonly position?: GivenPoint | undefined;
    /** m: where it stood when it was measured; default `position`. */
    readonly measuredAt?: GivenPoint | undefined;
    /** From `pressurePerVolt`, one for each place measured. */
    readonly pressures: readonly PressurePerVolt[];
    /** What moves its cone, in its enclosure: mechanics, or resonance, Q and one of mass and force factor; default not known. */
    readonly motion?: DriverMotionOptions | undefined;
    /** W of heat and m of excursion that it may stand; default not known. */
    readonly ratings?: DriverRatingsOptions | undefined;
  }[];
  /** Ω, or resistance in Ω and inductance in H; default none. */
  readonly sourceImpedance?: SourceImpedance | undefined;
  /** The air: `{ temperature, humidity, pressure }` in °C, % and Pa, or `{ speedOfSound, density }` in m/s and kg/m³; default dry, 20 °C. */
  readonly air?: Air | undefined;
}

/**
 * A loudspeaker: a network, the drivers that hang on it with what was measured of each, and the source's impedance. A
 * driver's polarity is the order of its part's nodes. Two drivers may hang on one part, or share one measurement
 * (`measuredAt` then says where the measured one stood).
 *
 * @param options `network`; `drivers` with name, part, role, position (m: x towards the listener, y to the loudspeaker's
 *   own left, z up) pressures per volt (Pa/V), and, where known, `motion` and `ratings` (W, m); `sourceImpedance` in Ω; the `air` (°C, % and Pa, or m/s and kg/m³; default dry at 20 °C)
 * @returns the loudspeaker, frozen; positions in m
 * @throws DividingNetworkError `invalid-network`, `unknown-part`, `invalid-argument`, also where one driver was measured twice at one place and the two differ
 * @example
 * ```ts
 * import { frequencyResponse, loudspeaker, pressurePerVolt, resistor } from "dividing-network";
 *
 * const cone = pressurePerVolt({ response: frequencyResponse([500, 1000], [1, 1], [0, 0]), drive: { voltage: 1, at: "terminals" }, distance: 1, timeZero: "common" });
 * const box = loudspeaker({ network: { woofer: [resistor(8), "in", "gnd"] }, drivers: [{ name: "woofer", pressures: [cone] }] });
 * box.drivers[0]?.role; // "full-range"
 * ```
 */
export function loudspeaker<const T extends Entries>(options: LoudspeakerOptions<T>): Loudspeaker<T> {
  const caller = "loudspeaker";
  const {
    network: entries,
    drivers: given,
    sourceImpedance: source,
    air: around,
  } = checkOptions(caller, options, ["network", "drivers", "sourceImpedance", "air"]);
  compile<Entries>(entries);
  if (!Array.isArray(given) || given.length === 0) {
    throw new DividingNetworkError("invalid-argument", `${caller}: "drivers" must be an array of at least one driver, got ${show(given)}`);
  }
  const seen = new Set<string>();
  const drivers = checkList(caller, "drivers", given as LoudspeakerOptions<T>["drivers"], "drivers").map((driver) => {
    const {
      name,
      part = name as PartName<T>,
      role = "full-range",
      position = [0, 0, 0] as Point,
      measuredAt = position,
      pressures,
      motion,
      ratings,
    } = checkOptions(caller, driver, ["name", "part", "role", "position", "measuredAt", "pressures", "motion", "ratings"]);
    if (typeof name !== "string" || name === "" || seen.has(name)) {
      throw new DividingNetworkError("invalid-argument", `${caller}: each driver must have a name of its own, got ${show(name)}`);
    }
    seen.add(name);
    if (typeof part !== "string" || !Object.hasOwn(entries, part)) {
      throw new DividingNetworkError(
        "unknown-part",
        `${caller}: driver ${show(name)} hangs on part ${show(part)}, which isn't in the network`,
        `Parts: ${Object.keys(entries).join(", ")}`,
      );
    }
    if (!isList(pressures) || pressures.length === 0) {
      throw new DividingNetworkError(
        "invalid-argument",
        `${caller}: driver ${show(name)} must have at least one measured pressure, got ${show(pressures)}`,
        "Make them with pressurePerVolt",
      );
    }
    return Object.freeze({
      name,
      part,
      role: checkOneOf(caller, `role of ${name}`, role, ["woofer", "midrange", "tweeter", "full-range"]),
      position: pointInSi(caller, `position of ${name}`, position),
      measuredAt: pointInSi(caller, `measuredAt of ${name}`, measuredAt),
      pressures: Object.freeze(
        checkMeasuredOnce(
          caller,
          name,
          pressures.map((pressure, index) => checkPressure(caller, `pressures[${index}] of ${name}`, pressure)),
        ),
      ),
      ...driverFacts(caller, ` of ${name}`, { motion, ratings }),
    });
  });
  sourceLaw(caller, source);
  checkAir(caller, around);
  const air: Air = Object.freeze({ ...(around ?? { temperature: 20 }) });
  const network = owned(entries);
  const sourceImpedance = owned(source);
  const made: Loudspeaker<T> = {
    network,
    drivers: proved("drivers", Object.freeze(drivers)),
    air,
    ...(sourceImpedance === undefined ? {} : { sourceImpedance }),
  };
  return proved("loudspeaker", Object.freeze(shown(made, loudspeakerViews as unknown as Views<Loudspeaker<T>>)));
}

function isList(value: unknown): value is readonly unknown[] {
  return Array.isArray(value);
}
