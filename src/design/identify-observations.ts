import { DividingNetworkError } from "../errors";
import { show } from "../errors/internal";
import { knownBand } from "../assessment/internal";
import { solve, type Entries } from "../network";
import { checkResponse } from "../response/internal";

/** One measured curve, at the frequencies at which the model can be computed. */
export interface Observation {
  /** Of which voltage; undefined: the input impedance. */
  readonly output: string | undefined;
  readonly frequencies: Float64Array;
  readonly re: Float64Array;
  readonly im: Float64Array;
}

/** What was measured, where it isn't 0 and the drivers' impedances are known. */
export function observations(caller: string, network: Entries, impedance: unknown, transfers: unknown): readonly Observation[] {
  if (typeof transfers !== "object" || transfers === null || Array.isArray(transfers))
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "transfers" must be an object of responses by part or node, got ${show(transfers)}`,
    );
  const given = [
    ...(impedance === undefined ? [] : [[undefined, impedance] as const]),
    ...Object.entries(transfers as Record<string, unknown>),
  ];
  if (given.length === 0)
    throw new DividingNetworkError(
      "not-measured",
      `${caller}: there must be a measured impedance, or voltages by part or node in transfers, got neither`,
      "Measure the impedance at the network's input, drivers connected",
    );
  const { from, to } = knownBand(network);
  return given.map(([output, response]) => {
    const name = output === undefined ? "impedance" : `transfers.${output}`;
    // A name that isn't in the network is told by the solver.
    if (output !== undefined) solve<Entries>(network, [Math.sqrt(from * to)]).voltage(output);
    const { frequencies, re, im } = checkResponse(caller, name, response);
    const inside = [...frequencies.keys()].filter(
      (index) => frequencies[index]! > 0 && frequencies[index]! >= from && frequencies[index]! <= to,
    );
    if (inside.length === 0)
      throw new DividingNetworkError(
        "band-too-narrow",
        `${caller}: "${name}" must have points where the drivers' impedances are known, ${from.toPrecision(4)} Hz to ${to.toPrecision(4)} Hz, got ${frequencies[0]!.toPrecision(4)} Hz to ${frequencies[frequencies.length - 1]!.toPrecision(4)} Hz`,
        "Measure both over the same band",
      );
    const silent = inside.find((index) => re[index] === 0 && im[index] === 0);
    if (silent !== undefined)
      throw new DividingNetworkError(
        "invalid-argument",
        `${caller}: "${name}" must not be 0, got 0 at ${frequencies[silent]!} Hz`,
        "Leave out the frequencies at which nothing was measured",
      );
    const pick = (array: Float64Array) => Float64Array.from(inside, (index) => array[index]!);
    return { output, frequencies: pick(frequencies), re: pick(re), im: pick(im) };
  });
}
