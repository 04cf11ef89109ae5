import { DividingNetworkError } from "../../errors";
import { checkNumber, checkOptions, show } from "../../errors/internal";
import type { FrequencyBand } from "../../quantity";
import { bandInSi } from "../../quantity/internal";
import { coilLaw } from "../../parts/internal";
import type { FrequencyResponse } from "../../response";
import { throwFindings } from "../diagnose";
import type { Entries } from "../entries";
import { sourceValues, type SourceImpedance } from "../solve/source";
import type { Chain } from "./law-sections";
import { withOperatingPoint } from "./operating-point";
import { chainElements, spiceElements, type SpiceElement, type SpiceLine } from "./spice-elements";
import { spiceNames } from "./spice-names";

/** How a netlist is written. */
export interface SpiceOptions {
  /** The first line; default "dividing network". */
  readonly title?: string | undefined;
  /** Hz: of the analysis, and of what is approximated; default 20 Hz to 20 kHz. */
  readonly band?: FrequencyBand | undefined;
  /** The largest relative deviation of an approximated impedance, dimensionless; default 0.05. */
  readonly largestError?: number | undefined;
  /** Ω, or resistance and inductance, between the source and `in`; default none. */
  readonly sourceImpedance?: Exclude<SourceImpedance, FrequencyResponse> | undefined;
}

/**
 * A network as a netlist in the general SPICE dialect, for a circuit simulator: every part as R, L, C and K, `gnd` as node 0, a source of 1 V
 * at `in` and an analysis over frequency. Numbers are plain SI with all their digits.
 *
 * Coils, capacitors with an `esr`, pads, transformers and drivers by their parameters are exact. A dissipation factor, a coil K(jω)ⁿ and a
 * measured impedance are no finite circuit: each becomes one that is passive and comes near, and a comment says how near, within which band.
 * Where the simulator's operating point would fail, at 0 Hz, a resistor of 10¹² Ω, or one of at most 10⁻⁶ Ω, is added, with a comment.
 *
 * @param network entries keyed by designator; dimensionless
 * @param options `title`, `band` (Hz), `largestError` (relative, dimensionless), `sourceImpedance` (Ω)
 * @returns the netlist, lines that end in LF; dimensionless
 * @throws DividingNetworkError `inexact-netlist` where no circuit comes near enough; `outside-measured-band`; `malformed-network`,
 * `invalid-network` when it isn't a network; `unknown-option`, `invalid-argument`, `invalid-quantity`
 * @example
 * ```ts
 * import { capacitor, network, networkToSpice, resistor } from "dividing-network";
 *
 * const text = networkToSpice(network({ C1: [capacitor("6.8 µF"), "in", "t"], tweeter: [resistor(6), "t", "gnd"] }));
 * text.split("\n")[2]; // "C1 in t 0.0000068"
 * text.split("\n")[3]; // "Rtweeter t 0 6"
 * ```
 */
export function networkToSpice(network: Entries, options: SpiceOptions = {}): string {
  const caller = "networkToSpice";
  const {
    title = "dividing network",
    band = { from: 20, to: 20_000 },
    largestError = 0.05,
    sourceImpedance,
  } = checkOptions(caller, options, ["title", "band", "largestError", "sourceImpedance"]);
  if (typeof title !== "string") throw new DividingNetworkError("invalid-argument", `${caller}: "title" must be text, got ${show(title)}`);
  const { from, to } = bandInSi(caller, "band", band, { min: 1e-6, max: 1e12 });
  checkNumber(caller, "largestError", largestError, { min: 0, max: 1 });
  if (typeof sourceImpedance === "object" && sourceImpedance !== null && "frequencies" in sourceImpedance) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "sourceImpedance" must be a resistance in Ω, or { resistance, inductance }, got a response`,
      "Add what it is made of to the network",
    );
  }
  const source = sourceValues(caller, sourceImpedance);
  const circuit = throwFindings(network);
  const names = spiceNames(["in", ...circuit.nodes]);
  const lines: SpiceLine[] = [...sourceLines(source, names), ...spiceElements(network, names, { caller, from, to, largestError })];
  const renamed = Array.from(names.renamed, ([node, name]) => `* node ${ascii(show(node))} is ${name}`);
  return [
    ascii(title) || "dividing network",
    ...renamed,
    ...withOperatingPoint(lines, names, from).map((line) => ("remark" in line ? `* ${ascii(line.remark)}` : text(line))),
    `.ac dec 48 ${from} ${to}`,
    ".end",
    "",
  ].join("\n");
}

function sourceLines(
  source: { readonly resistance: number; readonly inductance: number },
  names: ReturnType<typeof spiceNames>,
): SpiceElement[] {
  const near = source.resistance === 0 && source.inductance === 0 ? "in" : names.inner("source");
  const impedance =
    near === "in" ? [] : chainElements("source", near, "in", coilLaw.circuit!([source.inductance, source.resistance]) as Chain, names);
  return [{ letter: "V", name: names.element("V", "Vin"), nodes: [near, "0"], value: "DC 0 AC 1" }, ...impedance];
}

const text = ({ name, nodes, value }: SpiceElement): string => `${name} ${nodes.join(" ")} ${value}`;

/** One line without control characters; what isn't ASCII is written as its code, since simulators differ in what else they read. */
function ascii(line: string): string {
  const known: Readonly<Record<string, string>> = { Ω: "ohm", µ: "u", μ: "u", "−": "-" };
  return line
    .slice(0, 200)
    .replaceAll(/[^ -~]/gu, (character) => known[character] ?? `{${character.codePointAt(0)!.toString(16)}}`)
    .trim();
}
