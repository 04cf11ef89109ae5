import { DividingNetworkError } from "../errors";
import { checkNumber, checkOneOf, checkOptions, show } from "../errors/internal";
import type { Loudspeaker } from "../loudspeaker";
import { checkLoudspeaker } from "../loudspeaker/internal";
import { compile, type Entries } from "../network";
import { numbersOf, type Observation } from "./identify-data";
import type { Source } from "./identify-deviations";
import { observations } from "./identify-observations";
import type { IdentifyOptions } from "./identify-options";
import { unknownsOf, type Unknown } from "./identify-unknowns";

/** What is to be identified from what, checked. */
export interface IdentifyRequest {
  readonly network: Entries;
  /** What drives it, where it is a loudspeaker's. */
  readonly source: Source;
  readonly unknowns: readonly Unknown[];
  readonly seen: readonly Observation[];
  /** How many numbers were measured: no fewer than there are unknowns. */
  readonly points: number;
  /** Standard deviations by the kind of measurement; all 1 where none is known. */
  readonly sigma: Readonly<Record<Observation["kind"], number>>;
  /** Whether a standard deviation is stated. */
  readonly known: boolean;
  /** How often the network may be solved; undefined where nothing is said. */
  readonly mostSolves: number | undefined;
}

const OPTIONS = ["impedance", "transfers", "pressures", "pressurePhase", "vary", "parasitics", "repeatability", "mostSolves"] as const;
const KINDS = ["impedance", "transfer", "pressure"] as const;

/** Checks the system and the options of `identify`. */
export function identifyRequest(caller: string, system: unknown, options: IdentifyOptions): IdentifyRequest {
  const { network, box } = systemIn(caller, system);
  const {
    impedance,
    transfers = {},
    vary,
    parasitics = false,
    repeatability = {},
    pressures,
    pressurePhase = "common",
    mostSolves,
  } = checkOptions(caller, options, OPTIONS);
  const phase = checkOneOf(caller, "pressurePhase", pressurePhase, ["common", "unknown"]);
  if (mostSolves !== undefined) checkNumber(caller, "mostSolves", mostSolves, { min: 1000, max: 1e9, integer: true });
  if (typeof parasitics !== "boolean")
    throw new DividingNetworkError("invalid-argument", `${caller}: "parasitics" must be true or false, got ${show(parasitics)}`);
  const stated = checkOptions(`${caller}: repeatability`, repeatability, KINDS);
  for (const key of KINDS) if (stated[key] !== undefined) checkNumber(caller, `repeatability.${key}`, stated[key], { above: 0 });
  compile(network);
  const unknowns = unknownsOf(caller, network, vary, parasitics);
  const seen = observations(caller, network, box, impedance, transfers, pressures, phase === "unknown");
  const points = seen.reduce((sum, one) => sum + numbersOf(one), 0);
  if (points < unknowns.length)
    throw new DividingNetworkError(
      "undetermined",
      `${caller}: there must be at least as many measured numbers as unknown values, got ${points} for ${unknowns.length}`,
      "Measure at more frequencies, or name fewer parts in vary",
    );
  // What is stated of one kind is taken for the others, too.
  const any = stated.impedance ?? stated.transfer ?? stated.pressure;
  const sigma = {
    impedance: stated.impedance ?? any ?? 1,
    transfer: stated.transfer ?? any ?? 1,
    pressure: stated.pressure ?? any ?? 1,
  };
  return { network, source: box?.sourceImpedance, unknowns, seen, points, sigma, known: any !== undefined, mostSolves };
}

function systemIn(caller: string, system: unknown): { readonly network: Entries; readonly box?: Loudspeaker<Entries> } {
  if (typeof system !== "object" || system === null)
    throw new DividingNetworkError("invalid-argument", `${caller}: "system" must be a network or a loudspeaker, got ${show(system)}`);
  const { network, drivers } = system as { readonly network?: unknown; readonly drivers?: unknown };
  const isBox = Array.isArray(drivers) && typeof network === "object" && network !== null && !Array.isArray(network);
  if (!isBox) return { network: system as Entries };
  const box = checkLoudspeaker(caller, system as Loudspeaker<Entries>);
  return { network: box.network, box };
}
