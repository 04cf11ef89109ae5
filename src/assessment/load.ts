import type { Resistance } from "../quantity";
import { inSi, listOf } from "../quantity/internal";
import { checkOptions } from "../errors/internal";
import { compile, type Entries, type Sweep } from "../network";
import type { Loudspeaker } from "../loudspeaker";
import { checkLoudspeaker } from "../loudspeaker/internal";
import { isCoupling, isDriver, measuredImpedance } from "../parts/internal";
import { magnitude, phaseDegrees, type FrequencyResponse } from "../response";
import { checkedGrid } from "../response/internal";
import { anchoredGrid } from "./band";
import { withNarrowDips } from "./load-grid";

/** The share that one branch of the network has in the current at one frequency. */
export interface CurrentShare {
  /** Parts of the branch that touch `in`. */
  readonly parts: readonly string[];
  /** Drivers' designators in the branch; empty for a branch that holds none (a trap across the input, say). */
  readonly drivers: readonly string[];
  /** Dimensionless: the part of the total current that is in phase with it. The shares add up to 1. */
  readonly share: number;
}

/** What the amplifier sees. */
export interface Load {
  /** Ω, the input impedance without amplifier and cable. */
  readonly impedance: FrequencyResponse;
  /** Ω, the smallest magnitude. */
  readonly minimum: number;
  /** Hz, where. */
  readonly minimumFrequency: number;
  /** Which branches' currents make it. */
  readonly shares: readonly CurrentShare[];
  /** Degrees: the most capacitive phase. */
  readonly lowestPhaseDegrees: number;
  /** Hz, where. */
  readonly lowestPhaseFrequency: number;
  /** Degrees: the most inductive phase. */
  readonly highestPhaseDegrees: number;
  /** Hz, where. */
  readonly highestPhaseFrequency: number;
  /** Octaves over which |Z| is below 80 % of the rated impedance. */
  readonly octavesBelowLimit: number;
}

/** Part of the rated impedance below which |Z| should not fall: the rule of IEC 60268-5 as remembered, not verified. */
export const RATED_SHARE = 0.8;

/**
 * The load that a loudspeaker is: the input impedance (Ω) over the audio band as far as the drivers' impedances are known,
 * its minimum, its phase extremes (degrees), and whose current makes the minimum. A dip at the crossover is often read as
 * drivers working on top of each other (common practice, no source); a trap makes one too, so the branches are named.
 *
 * @param loudspeaker network and drivers
 * @param options `ratedImpedance` in Ω; `frequencies` in Hz, default 48 points per octave from 20 Hz to 20 kHz as far as known, and where |Z| dips between them
 * @returns impedance in Ω, phase in degrees, frequencies in Hz, current shares as parts of 1
 * @throws DividingNetworkError what `solve` throws
 * @example
 * ```ts
 * import { frequencyResponse, loudspeaker, pressurePerVolt, resistor } from "dividing-network";
 * import { loadOf } from "dividing-network/assessment";
 *
 * const cone = pressurePerVolt({ response: frequencyResponse([500, 1000], [1, 1], [0, 0]), drive: { voltage: 1, at: "terminals" }, distance: 1, timeZero: "common" });
 * const box = loudspeaker({ network: { woofer: [resistor(6), "in", "gnd"] }, drivers: [{ name: "woofer", pressures: [cone] }] });
 * loadOf(box, { ratedImpedance: 8 }).minimum; // 6
 * ```
 */
export function loadOf<T extends Entries>(
  loudspeaker: Loudspeaker<T>,
  options: { readonly ratedImpedance: Resistance; readonly frequencies?: ArrayLike<number> | undefined },
): Load {
  const box = checkLoudspeaker("loadOf", loudspeaker);
  const { ratedImpedance, frequencies: asked } = checkOptions("loadOf", options, ["ratedImpedance", "frequencies"]);
  const rated = inSi("loadOf", "ratedImpedance", ratedImpedance, "Ω", { above: 0 });
  const compiled = compile<Entries>(box.network);
  const frequencies =
    asked === undefined ? withNarrowDips(compiled, anchoredGrid(knownBand(box.network), 48)) : checkedGrid("loadOf", asked);
  const sweep = compiled.sweep(frequencies);
  const { impedance } = sweep;
  const [size, phase] = [magnitude(impedance), phaseDegrees(impedance)];
  const lowest = indexOfLeast(size);
  const [low, high] = [indexOfLeast(phase), indexOfLeast(phase.map((angle) => -angle))];
  let octavesBelowLimit = 0;
  const limit = RATED_SHARE * rated;
  // Straight between the points: where the limit is crossed, the part below it counts.
  for (let i = 1; i < size.length; i++) {
    const [low, high] = [Math.min(size[i]!, size[i - 1]!), Math.max(size[i]!, size[i - 1]!)];
    if (low < limit && frequencies[i - 1]! > 0)
      octavesBelowLimit += Math.log2(frequencies[i]! / frequencies[i - 1]!) * (high <= limit ? 1 : (limit - low) / (high - low));
  }
  return Object.freeze({
    impedance,
    minimum: size[lowest]!,
    minimumFrequency: frequencies[lowest]!,
    shares: currentShares(box, sweep, lowest),
    lowestPhaseDegrees: phase[low]!,
    lowestPhaseFrequency: frequencies[low]!,
    highestPhaseDegrees: phase[high]!,
    highestPhaseFrequency: frequencies[high]!,
    octavesBelowLimit,
  });
}

function indexOfLeast(values: Float64Array): number {
  let best = 0;
  for (let i = 1; i < values.length; i++) if (values[i]! < values[best]!) best = i;
  return best;
}

/** The part of 20 Hz … 20 kHz in which every measured impedance of the network is known. */
export function knownBand(network: Entries): { readonly from: number; readonly to: number } {
  let [from, to] = [20, 20_000];
  for (const [part] of Object.values(network)) {
    const measured = measuredImpedance(part);
    if (measured === undefined) continue;
    const { frequencies } = measured;
    from = Math.max(from, frequencies[0]!);
    to = Math.min(to, frequencies[frequencies.length - 1]!);
  }
  return { from, to };
}

/** The branches that meet only at `in` and `gnd`, and the current that each draws. */
function currentShares<T extends Entries>(
  { network, drivers: placed }: Loudspeaker<T>,
  sweep: Sweep<T>,
  at: number,
): readonly CurrentShare[] {
  const heard = new Set(placed.map(({ part }) => part));
  const groups: { readonly nodes: Set<string>; readonly parts: string[] }[] = [];
  for (const [name, [part, ...nodes]] of Object.entries(network)) {
    if (isCoupling(part)) continue;
    const inner = nodes.filter((node) => node !== "in" && node !== "gnd");
    const touching = groups.filter((group) => inner.some((node) => group.nodes.has(node)));
    const merged = {
      nodes: new Set([...inner, ...touching.flatMap((group) => [...group.nodes])]),
      parts: [...touching.flatMap((group) => group.parts), name],
    };
    for (const group of touching) groups.splice(groups.indexOf(group), 1);
    groups.push(merged);
  }
  const total = { re: sweep.sourceCurrent.re[at]!, im: sweep.sourceCurrent.im[at]! };
  const size = total.re ** 2 + total.im ** 2;
  const shares = groups.flatMap(({ parts }) => {
    const feeding = parts.filter((name) => network[name]!.slice(1).includes("in"));
    if (feeding.length === 0) return [];
    let [re, im] = [0, 0];
    for (const name of feeding) {
      const [, first] = network[name]!;
      const current = sweep.current(name as never);
      const sign = first === "in" ? 1 : -1;
      re += sign * current.re[at]!;
      im += sign * current.im[at]!;
    }
    const drivers = parts.filter((name) => heard.has(name) || isDriver(network[name]![0]));
    return [
      Object.freeze({ parts: Object.freeze(feeding), drivers: Object.freeze(drivers), share: (re * total.re + im * total.im) / size }),
    ];
  });
  return Object.freeze(shares.sort((a, b) => b.share - a.share));
}

/** One sentence that names whose current makes the minimum. */
export function shareSentence(shares: readonly CurrentShare[]): string {
  const named = shares.filter(({ share }) => Math.abs(share) >= 0.15);
  const words = named.map(
    ({ drivers, parts, share }) =>
      `${Math.round(share * 100)} % through ${drivers.length > 0 ? listOf(drivers) : `the branch of ${parts.join(", ")}, which feeds no driver`}`,
  );
  if (shares.length <= 1) return "the network has a single branch, so the current can't be told apart";
  return `of the current there, ${words.join(", ")}`;
}
