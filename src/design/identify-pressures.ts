import { DividingNetworkError } from "../errors";
import { checkList, checkObject, show } from "../errors/internal";
import type { WholeMeasurement } from "../assessment";
import type { Loudspeaker } from "../loudspeaker";
import { pressuresAt } from "../loudspeaker/internal";
import type { Entries } from "../network";
import { inSi } from "../quantity/internal";
import { checkResponse } from "../response/internal";
import type { Heard, Observation } from "./identify-data";

/** What was measured of the whole loudspeaker, per volt of its source, where every driver was measured by itself. */
export function heardPressures(
  caller: string,
  box: Loudspeaker<Entries> | undefined,
  given: readonly WholeMeasurement[] | undefined,
  levelsAlone: boolean,
  inside: (frequencies: Float64Array, name: string) => readonly number[],
): readonly Observation[] {
  const pressures = checkList<WholeMeasurement>(caller, "pressures", given ?? [], "{ distance, azimuth, elevation, response, voltage }");
  if (pressures.length === 0) return [];
  if (box === undefined)
    throw new DividingNetworkError(
      "not-measured",
      `${caller}: "pressures" need a loudspeaker, whose drivers were measured at the same places, got a network alone`,
      "Give loudspeaker({ network, drivers }) in place of the network",
    );
  const { sourceImpedance } = box;
  if (typeof sourceImpedance === "object" && sourceImpedance !== null && "frequencies" in sourceImpedance)
    throw new DividingNetworkError(
      "unsupported",
      `${caller}: "pressures" can't be fitted behind a measured source impedance`,
      "State the source impedance in Ω and H",
    );
  return pressures.map((one, index) => {
    const name = `pressures[${index}]`;
    const own = checkObject<WholeMeasurement>(caller, name, one, "{ distance, azimuth, elevation, response, voltage }");
    const { frequencies, re, im } = checkResponse(caller, `${name}.response`, own.response);
    const volts = inSi(caller, `${name}.voltage`, own.voltage, "V", { above: 0 });
    const known = box.drivers.flatMap(({ pressures: all }) => all.map(({ response }) => response.frequencies));
    const [from, to] = [
      known.reduce((most, each) => Math.max(most, each[0]!), 0),
      known.reduce((least, each) => Math.min(least, each[each.length - 1]!), Infinity),
    ];
    const picked = inside(frequencies, name).filter((at) => frequencies[at]! >= from && frequencies[at]! <= to);
    if (picked.length === 0)
      throw new DividingNetworkError(
        "band-too-narrow",
        `${caller}: "${name}" must have points where every driver was measured, ${from.toPrecision(4)} Hz to ${to.toPrecision(4)} Hz, got ${frequencies[0]!.toPrecision(4)} Hz to ${frequencies[frequencies.length - 1]!.toPrecision(4)} Hz`,
        "Measure both over the same band",
      );
    const silent = picked.find((at) => re[at] === 0 && im[at] === 0);
    if (silent !== undefined)
      throw new DividingNetworkError("invalid-argument", `${caller}: "${name}" must not be 0, got 0 at ${show(frequencies[silent])} Hz`);
    const grid = Float64Array.from(picked, (at) => frequencies[at]!);
    const place = { distance: own.distance, azimuth: own.azimuth, elevation: own.elevation };
    const heard = pressuresAt(caller, box, place, grid).map(({ re: a, im: b }, driver): Heard => ({
      part: box.drivers[driver]!.part,
      re: a,
      im: b,
    }));
    return {
      kind: "pressure",
      output: undefined,
      heard,
      levelsAlone,
      frequencies: grid,
      re: Float64Array.from(picked, (at) => re[at]! / volts),
      im: Float64Array.from(picked, (at) => im[at]! / volts),
    };
  });
}
