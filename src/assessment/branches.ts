import type { Entries } from "../network";
import type { Prediction, PressureAtPlace } from "../loudspeaker";
import { addResponses, type FrequencyResponse } from "../response";

/** A branch of the network as it is heard: the drivers that hang on one part, together. */
export interface Branch {
  readonly part: string;
  /** Names of its drivers. */
  readonly drivers: readonly string[];
  /** Pa. */
  readonly response: FrequencyResponse;
}

/** The branches at one place, from the lowest to the highest by where their energy lies on the log axis. */
export function branchesAt<T extends Entries>({ loudspeaker }: Prediction<T>, place: PressureAtPlace): readonly Branch[] {
  const byPart = new Map<string, string[]>();
  for (const { name, part } of loudspeaker.drivers) byPart.set(part, [...(byPart.get(part) ?? []), name]);
  return [...byPart]
    .map(([part, drivers]) => {
      const responses = drivers.map((name) => place.branches[name]!);
      return { part, drivers, response: responses.length === 1 ? responses[0]! : addResponses(...responses) };
    })
    .sort((a, b) => centre(a.response) - centre(b.response));
}

/** The mean of log₂ f, weighted by |p|² per octave. */
function centre({ frequencies, re, im }: FrequencyResponse): number {
  let [sum, weight] = [0, 0];
  for (let i = frequencies[0]! > 0 ? 1 : 2; i < frequencies.length; i++) {
    const power = (re[i]! ** 2 + im[i]! ** 2) * Math.log2(frequencies[i]! / frequencies[i - 1]!);
    sum += power * Math.log2(frequencies[i]!);
    weight += power;
  }
  return sum / weight;
}
