import { DividingNetworkError } from "../errors";
import type { Loudspeaker } from "../loudspeaker";
import { network as networkOf, type Entries, type Entry } from "../network";
import { resistor, type PartOrCoupling } from "../parts";
import { describe, expandPart, isCoupling } from "../parts/internal";
import { frequencyResponse, type FrequencyResponse } from "../response";
import type { Branch } from "./branches";
import type { Goal } from "./goal-types";
import { lossAt, lossEvenIfSilent } from "./loss";
import { overItsBand } from "./quality";

/** Something that takes level: how much louder the loudspeaker would be without it, all else as it is. */
export interface LevelEater {
  /** A part; the drivers' parts of two branches that stand against each other; empty for the source's impedance. */
  readonly parts: readonly string[];
  /** `"resistance"`: a resistor or pad as a whole; `"losses"`: the resistance of a coil or capacitor; `"source"`: what lies before the network; `"cancellation"`: branches that don't add up. */
  readonly what: "resistance" | "losses" | "source" | "cancellation";
  /** dB by which the mean level on the axis over the judged band would rise without it; against the sum of the branches' powers for a cancellation. */
  readonly takesDb: number;
}

/** dB: less isn't worth a word (choice, no source). */
export const WORTH_DB = 0.3;

/** What takes level on the axis, most first: each resistance bridged by a wire, or taken away where it lies across; each loss left out; branches that add less than their powers. */
export function levelEaters(
  box: Loudspeaker,
  aim: Goal,
  distance: number,
  branches: readonly Branch[],
  sum: FrequencyResponse,
): readonly LevelEater[] {
  const goal = axisAlone(aim, distance);
  const { partner: _, ...unaided } = goal;
  const levelOf = (network: Entries): number => lossEvenIfSilent({ ...box, network: networkOf<Entries>(network) }, unaided).levelDb;
  const now = levelOf(box.network);
  const found: LevelEater[] = [];
  const add = (parts: readonly string[], what: LevelEater["what"], level: () => number) => {
    try {
      const takesDb = level() - now;
      if (takesDb >= WORTH_DB) found.push(Object.freeze({ parts: Object.freeze([...parts]), what, takesDb }));
    } catch (error) {
      // Without it there is no network: then it isn't what takes the level.
      if (!(error instanceof DividingNetworkError)) throw error;
    }
  };
  const heard = new Set(box.drivers.map(({ part }) => part));
  for (const [name, entry] of Object.entries(box.network)) {
    if (heard.has(name) || isCoupling(entry[0])) continue;
    const bare = withoutResistance(box.network, name, entry);
    if (bare !== undefined) add([name], "resistance", () => levelOf(bare));
    const lossless = withoutLosses(entry[0]);
    if (lossless !== undefined)
      add([name], "losses", () => levelOf({ ...box.network, [name]: [lossless, ...entry.slice(1)] } as unknown as Entries));
  }
  if (box.sourceImpedance !== undefined) {
    const { sourceImpedance: _source, ...ideal } = box;
    add([], "source", () => lossEvenIfSilent(ideal, unaided).levelDb);
  }
  if (branches.length > 1)
    add(againstEachOther(branches), "cancellation", () => lossAt(unaided, distance, [addedPowers(branches, sum.frequencies)]).levelDb);
  return Object.freeze(found.sort((a, b) => b.takesDb - a.takesDb));
}

/** The axis alone, over its band, its level free. */
function axisAlone(aim: Goal, distance: number): Goal {
  const { levelDb: _, ...goal } = overItsBand(aim);
  const { levelDb: _own, ...axis } = goal.places.find(({ azimuth, elevation }) => azimuth === 0 && elevation === 0) ?? {
    azimuth: 0,
    elevation: 0,
    weight: 1,
  };
  return Object.freeze({ ...goal, distance, places: Object.freeze([axis]) });
}

/** A part's resistances out of the way: a wire where one lies between, nothing where it lies across or beside another part. Undefined for what is more than resistance. */
function withoutResistance(network: Entries, name: string, [part, ...nodes]: Entry): Entries | undefined {
  if (isCoupling(part)) return undefined;
  const { branches, couplings = [], transformers = [] } = expandPart(part);
  if (couplings.length > 0 || transformers.length > 0 || branches.length === 0) return undefined;
  if (!branches.every(({ law }) => law.kernel === "resistance")) return undefined;
  const beside = (a: string, b: string) =>
    Object.entries(network).some(
      ([other, [device, ...ends]]) => other !== name && !isCoupling(device) && ends.length === 2 && ends.includes(a) && ends.includes(b),
    );
  const wires = branches.flatMap(({ from, to }) => {
    const [a, b] = [nodes[from]!, nodes[to]!];
    return a === "gnd" || b === "gnd" || beside(a, b) ? [] : [[resistor(0), a, b] as const];
  });
  if (wires.length > 1) return undefined;
  return Object.fromEntries(
    Object.entries(network).flatMap(([other, entry]) => (other !== name ? [[other, entry]] : wires.map((wire) => [name, wire]))),
  );
}

/** The same part without what it loses; undefined where it loses nothing. */
function withoutLosses(part: PartOrCoupling): PartOrCoupling | undefined {
  const losses = describe(part).losses ?? [];
  const values = part as unknown as Readonly<Record<string, unknown>>;
  if (!losses.some((loss) => typeof values[loss] === "number" && values[loss] > 0)) return undefined;
  return Object.freeze({ ...part, ...Object.fromEntries(losses.flatMap((loss) => (values[loss] === undefined ? [] : [[loss, 0]]))) });
}

/** A response whose power is that of all branches together. */
function addedPowers(branches: readonly Branch[], frequencies: Float64Array): FrequencyResponse {
  const size = frequencies.map((_, i) => Math.sqrt(branches.reduce((sum, { response: { re, im } }) => sum + re[i]! ** 2 + im[i]! ** 2, 0)));
  return frequencyResponse(frequencies, size, new Float64Array(frequencies.length));
}

/** The two branches that take most from each other. */
function againstEachOther(branches: readonly Branch[]): readonly string[] {
  let [most, pair] = [Infinity, [branches[0]!.part, branches[1]!.part]];
  branches.forEach((a, index) =>
    branches.slice(index + 1).forEach((b) => {
      const cross = a.response.re.reduce((sum, re, i) => {
        const [ar, ai, br, bi] = [re, a.response.im[i]!, b.response.re[i]!, b.response.im[i]!];
        const both = ar * ar + ai * ai + br * br + bi * bi;
        return both > 0 ? sum + (ar * br + ai * bi) / both : sum;
      }, 0);
      if (cross < most) [most, pair] = [cross, [a.part, b.part]];
    }),
  );
  return pair;
}

/** A thing that takes level, in words. */
export function eaterText({ parts, what, takesDb }: LevelEater, before?: LevelEater): string {
  const name = {
    resistance: parts.join(),
    losses: `the resistance within ${parts.join()}`,
    source: "what lies between amplifier and network",
    cancellation: `${parts.join(" and ")} against each other`,
  }[what];
  return `${name} ${what === "cancellation" ? "take" : "takes"} ${takesDb.toFixed(1)} dB${before === undefined ? "" : ` (before: ${before.takesDb.toFixed(1)} dB)`}`;
}
