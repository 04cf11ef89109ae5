import { DividingNetworkError } from "../errors";
import { show } from "../errors/internal";
import { knownBand } from "../assessment/internal";
import type { WholeMeasurement } from "../assessment";
import type { Loudspeaker } from "../loudspeaker";
import { solve, type Entries } from "../network";
import { checkResponse } from "../response/internal";
import type { Observation } from "./identify-data";
import { heardPressures } from "./identify-pressures";

/** What was measured, where it isn't 0 and the drivers' impedances are known. */
export function observations(
  caller: string,
  network: Entries,
  box: Loudspeaker<Entries> | undefined,
  impedance: unknown,
  transfers: unknown,
  pressures: readonly WholeMeasurement[] | undefined,
  levelsAlone: boolean,
): readonly Observation[] {
  if (typeof transfers !== "object" || transfers === null || Array.isArray(transfers))
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "transfers" must be an object of responses by part or node, got ${show(transfers)}`,
    );
  const given = [
    ...(impedance === undefined ? [] : [[undefined, impedance] as const]),
    ...Object.entries(transfers as Record<string, unknown>),
  ];
  const { from, to } = knownBand(network);
  const within = (frequencies: Float64Array, name: string): readonly number[] => {
    const inside = [...frequencies.keys()].filter(
      (index) => frequencies[index]! > 0 && frequencies[index]! >= from && frequencies[index]! <= to,
    );
    if (inside.length > 0) return inside;
    throw new DividingNetworkError(
      "band-too-narrow",
      `${caller}: "${name}" must have points where the drivers' impedances are known, ${from.toPrecision(4)} Hz to ${to.toPrecision(4)} Hz, got ${frequencies[0]!.toPrecision(4)} Hz to ${frequencies[frequencies.length - 1]!.toPrecision(4)} Hz`,
      "Measure both over the same band",
    );
  };
  const heard = heardPressures(caller, box, pressures, levelsAlone, within);
  if (given.length === 0 && heard.length === 0)
    throw new DividingNetworkError(
      "not-measured",
      `${caller}: there must be a measured impedance, voltages by part or node in transfers, or pressures of the whole, got none`,
      "Measure the impedance at the network's input, drivers connected",
    );
  const electrical = given.map(([output, response]): Observation => {
    const name = output === undefined ? "impedance" : `transfers.${output}`;
    // A name that isn't in the network is told by the solver.
    if (output !== undefined) solve<Entries>(network, [Math.sqrt(from * to)]).voltage(output);
    const { frequencies, re, im } = checkResponse(caller, name, response);
    const inside = within(frequencies, name);
    const silent = inside.find((index) => re[index] === 0 && im[index] === 0);
    if (silent !== undefined)
      throw new DividingNetworkError(
        "invalid-argument",
        `${caller}: "${name}" must not be 0, got 0 at ${frequencies[silent]!} Hz`,
        "Leave out the frequencies at which nothing was measured",
      );
    const pick = (array: Float64Array) => Float64Array.from(inside, (index) => array[index]!);
    return {
      kind: output === undefined ? "impedance" : "transfer",
      output,
      frequencies: pick(frequencies),
      re: pick(re),
      im: pick(im),
    };
  });
  return [...electrical, ...heard];
}
