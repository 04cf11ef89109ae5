import { DividingNetworkError } from "../errors";
import { checkList, isProven, proved, checkOneOf, owned, show, shown, type Views } from "../errors/internal";
import type { Entries } from "../network";
import { checkAir } from "../physics/internal";
import { driverFacts } from "./driver-facts";
import { checkPressure } from "./check-pressure";
import { checkMeasuredOnce } from "./measured-once";
import type { Loudspeaker, PlacedDriver } from "./loudspeaker-data";
import { loudspeakerViews } from "./views";

/**
 * Checks that a value is a loudspeaker, as `loudspeaker` makes it; `{ ...box, network }` is one too. The network itself is checked
 * when it is compiled. Measured pressures are looked at once, whichever loudspeaker they come in with.
 */
export function checkLoudspeaker<T extends Entries>(caller: string, value: Loudspeaker<T>): Loudspeaker<T> {
  if (isProven("loudspeaker", value)) return value;
  const given: unknown = value;
  if (typeof given !== "object" || given === null)
    throw malformed(caller, `"loudspeaker" must be what loudspeaker() gives, got ${show(given)}`);
  const { network, drivers } = given as { [K in keyof Loudspeaker]?: unknown };
  if (typeof network !== "object" || network === null)
    throw malformed(caller, `"loudspeaker.network" must be a network, got ${show(network)}`);
  if (!Array.isArray(drivers) || drivers.length === 0)
    throw malformed(caller, `"loudspeaker.drivers" must be an array of at least one driver, got ${show(drivers)}`);
  checkAir(`${caller}: loudspeaker`, value.air);
  const own = isProven("drivers", drivers)
    ? (drivers as readonly PlacedDriver[])
    : proved(
        "drivers",
        Object.freeze(
          checkList<unknown>(caller, "loudspeaker.drivers", drivers, "drivers").map((driver, index) =>
            checkDriver(caller, `loudspeaker.drivers[${index}]`, driver),
          ),
        ),
      );
  for (const { name, part } of own) {
    if (!Object.hasOwn(network, part))
      throw new DividingNetworkError(
        "unknown-part",
        `${caller}: driver ${show(name)} hangs on part ${show(part)}, which isn't in the network`,
        `Parts: ${Object.keys(network).join(", ")}`,
      );
  }
  return proved(
    "loudspeaker",
    Object.freeze(shown({ ...value, network: owned(value.network), drivers: own }, loudspeakerViews as unknown as Views<Loudspeaker<T>>)),
  );
}

function checkDriver(caller: string, argument: string, value: unknown): PlacedDriver {
  const { name, part, role, position, measuredAt, pressures, motion, ratings } = (
    typeof value === "object" && value !== null ? value : {}
  ) as { [K in keyof PlacedDriver]?: unknown };
  const isPoint = (point: unknown) => Array.isArray(point) && point.length === 3 && point.every(Number.isFinite);
  if (typeof name !== "string" || name === "" || typeof part !== "string")
    throw malformed(caller, `"${argument}" must be a driver with its name and its part, got ${show(value)}`);
  checkOneOf(caller, `${argument}.role`, role, ["woofer", "midrange", "tweeter", "full-range"]);
  if (!isPoint(position) || !isPoint(measuredAt))
    throw malformed(
      caller,
      `"${argument}" must have its position and measuredAt as [x, y, z] in m, got ${show(position)} and ${show(measuredAt)}`,
    );
  if (!Array.isArray(pressures) || pressures.length === 0)
    throw malformed(caller, `"${argument}.pressures" must be an array of at least one measured pressure, got ${show(pressures)}`);
  return Object.freeze({
    ...owned({ ...(value as PlacedDriver), pressures: [] }),
    pressures: Object.freeze(
      checkMeasuredOnce(
        caller,
        name,
        pressures.map((pressure, index) => checkPressure(caller, `${argument}.pressures[${index}]`, pressure)),
      ),
    ),
    ...driverFacts(caller, ` of ${argument}`, { motion, ratings } as Parameters<typeof driverFacts>[2]),
  });
}

function malformed(caller: string, what: string): DividingNetworkError {
  return new DividingNetworkError(
    "invalid-argument",
    `${caller}: ${what}`,
    "Make it with loudspeaker({ network, drivers }); { ...box, network } is one too",
  );
}
