import type { PartOrCoupling } from "../parts";
import type { FrequencyResponse } from "../response";
import type { Entry } from "./entries";
import type { PartJSON } from "./part-json";
import { partFromValues, partKinds, valuesOf } from "./part-kinds";

/**
 * The entry of a network that a part in JSON describes.
 *
 * @param part with quantities in SI, as `readPartJSON` gives it
 * @param measured the measured impedance in Ω that stands for a driver; needed where the part names a `response`
 * @returns the part and its nodes
 * @throws DividingNetworkError what the part's constructor throws
 */
export function entryFromJSON(part: PartJSON<number>, measured?: FrequencyResponse): Entry {
  const made = partFromValues(part.kind, valuesOf(part.kind, part), part.kind === "driver" ? measured : undefined);
  return Object.freeze([made, ...(part.kind === "coupling" ? part.coils : part.nodes)]) as unknown as Entry;
}

/** The JSON of an entry, quantities in SI; `response` names a measured driver's impedance. Values of 0 that may be left out are left out. */
export function partOfEntry(name: string, [part, ...places]: readonly [PartOrCoupling, ...string[]], response?: string): PartJSON<number> {
  const { kind } = part;
  const { fields, places: key } = partKinds[kind];
  const held = kind === "driver" ? ("model" in part ? part.model : {}) : part;
  const leftOut = (field: string, value: number): boolean => fields[field]!.optional === true && value === 0 && !(kind === "transformer" && field === "k");
  const kept = Object.entries(valuesOf(kind, held)).filter(([field, value]) => !leftOut(field, value));
  return { name, kind, ...(response === undefined ? {} : { response }), ...Object.fromEntries(kept), [key]: places } as unknown as PartJSON<number>;
}
