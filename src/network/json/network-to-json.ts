import { DividingNetworkError } from "../../errors";
import { checkObject, checkOptions } from "../../errors/internal";
import { describe, measuredImpedance, type PartJSON } from "../../parts/internal";
import { responseToJSON, type FrequencyResponse } from "../../response";
import { throwFindings } from "../diagnose";
import type { Entries } from "../entries";
import { entryFromJSON, partOfEntry } from "./entry-json";
import type { NetworkJSON } from "./network-json";
import { readPartJSON } from "./read-part-json";
import { sameData } from "../same-data";
import { writePartJSON } from "./write-part-json";

/** Measured impedances that are kept apart from the JSON of a network. */
export interface NetworkJSONOptions {
  /** Ω over Hz, by the names under which parts refer to them. */
  readonly responses?: Readonly<Record<string, FrequencyResponse>> | undefined;
}

/**
 * A network as plain data for `JSON.stringify`: parts in their order, quantities as text with their unit in the fewest digits that
 * read back to the same number (only the sign of a zero is lost, by JSON itself). A measured driver is written by the name of its
 * impedance: that of the option `responses` under which the same data stand, else a new one under `responses` in the JSON.
 *
 * @param network entries keyed by designator; dimensionless
 * @param options `responses`: measured impedances (Ω over Hz) by name, which are then not written
 * @returns plain data, which `networkFromJSON` reads back to an equal network
 * @throws DividingNetworkError `malformed-network`, `invalid-network` when it isn't a network; `unwritable-part` for a part that no
 * constructor makes; `unknown-option`, `invalid-argument`, `invalid-response`
 * @example
 * ```ts
 * import { capacitor, network, networkToJSON, resistor } from "dividing-network";
 *
 * const json = networkToJSON(network({ C1: [capacitor("6.8 µF"), "in", "t"], R1: [resistor(8), "t", "gnd"] }));
 * json.parts[0]; // { name: "C1", kind: "capacitor", capacitance: "6.8 µF" }
 * ```
 */
export function networkToJSON(network: Entries, options: NetworkJSONOptions = {}): NetworkJSON<string> {
  const caller = "networkToJSON";
  const { responses = {} } = checkOptions(caller, options, ["responses"]);
  checkObject(caller, "responses", responses, "an object of responses by name");
  throwFindings(network);
  const own = new Map<string, FrequencyResponse>();
  const parts = Object.entries(network).map(([name, entry]) => {
    const [part] = entry;
    const measured = measuredImpedance(part);
    const written = partOfEntry(name, entry, measured === undefined ? undefined : nameOf(measured, name, responses, own));
    if (!readsBack(written, part, measured)) {
      throw new DividingNetworkError(
        "unwritable-part",
        `${caller}: "${name}" is a ${describe(part).noun} with values that its constructor doesn't give: it would be read back as another part`,
        "Make it with the function of its kind",
      );
    }
    return writePartJSON(written);
  });
  return own.size === 0
    ? { parts }
    : { parts, responses: Object.fromEntries(Array.from(own, ([name, response]) => [name, responseToJSON(response)])) };
}

/** The name under which a measured impedance is found, entered into `own` where it stands nowhere yet. */
function nameOf(
  response: FrequencyResponse,
  part: string,
  given: Readonly<Record<string, FrequencyResponse>>,
  own: Map<string, FrequencyResponse>,
): string {
  const known = [...Object.entries(given), ...own].find(([, each]) => sameData(each, response));
  if (known !== undefined) return known[0];
  let name = part;
  for (let count = 2; Object.hasOwn(given, name) || own.has(name); count++) name = `${part} ${count}`;
  own.set(name, response);
  return name;
}

/** Whether what is written makes the same part again. */
function readsBack(written: PartJSON<number>, part: object, measured: FrequencyResponse | undefined): boolean {
  const reading = readPartJSON(written);
  return reading.part !== undefined && sameData(entryFromJSON(reading.part, measured)[0], part);
}
