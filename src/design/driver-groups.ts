import { DividingNetworkError } from "../errors";
import { zobel } from "../alignments";
import { knownBand } from "../assessment/internal";
import type { Loudspeaker } from "../loudspeaker";
import { compile, type Entries } from "../network";
import { isDriver } from "../parts/internal";
import { levelDb } from "../response";

/** Drivers that are fed alike. */
export interface Group {
  readonly role: string;
  readonly parts: readonly string[];
  /** Ω: least magnitude of the impedance of them all in parallel. */
  readonly load: number;
  /** Hz between which this group may hand over to the next lower and the next higher one. */
  readonly below: readonly [number, number] | undefined;
  readonly above: readonly [number, number] | undefined;
}

const ROLES = ["woofer", "full-range", "midrange", "tweeter"] as const;

/** The drivers by role, from low to high; each role is one branch. */
export function groupsOf(caller: string, { network, drivers }: Loudspeaker): readonly Group[] {
  const present = ROLES.filter((role) => drivers.some((driver) => driver.role === role));
  if (present.length < 2 || present.length > 3) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: the drivers must have two or three roles, got ${present.join(", ")}`,
      'State each driver\'s role: "woofer", "midrange", "tweeter", "full-range"; one group of drivers needs no crossover: draw its trap or step network and use chooseValues or fitValues',
    );
  }
  const { from, to } = knownBand(network);
  // Two-way: 0.8 to 6 kHz; three-way: 150 Hz to 1.2 kHz and 1.5 to 8 kHz (common practice, no source).
  const handovers: readonly (readonly [number, number])[] =
    present.length === 2
      ? [[800, 6000]]
      : [
          [150, 1200],
          [1500, 8000],
        ];
  return present.map((role, index) => {
    const parts = [...new Set(drivers.filter((driver) => driver.role === role).map(({ part }) => part))];
    const alone = Object.fromEntries(parts.map((part) => [part, [network[part]![0], "in", "gnd"]])) as unknown as Entries;
    const points = [100, 200, 400, 800, 1600, 3200, 6400].filter((frequency) => frequency >= from && frequency <= to);
    const { impedance } = compile<Entries>(alone).sweep(points.length > 0 ? points : [Math.sqrt(from * Math.max(from, Math.min(to, 1e5)))]);
    const load = 10 ** (levelDb(impedance).reduce((least, level) => Math.min(least, level), Infinity) / 20);
    return { role, parts, load, below: handovers[index - 1], above: handovers[index] };
  });
}

/** The Zobel network of a group, where its driver's coil is known. */
export function zobelOf({ network }: Loudspeaker, { parts }: Group): { readonly r: number; readonly c: number } | undefined {
  const [part] = network[parts[0]!]!;
  if (parts.length !== 1 || !isDriver(part)) return undefined;
  try {
    const { r, c } = zobel(part);
    return { r, c };
  } catch {
    return undefined;
  }
}
