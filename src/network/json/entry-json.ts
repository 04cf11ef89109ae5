import type { PartOrCoupling } from "../../parts";
import { jsonKinds, jsonValues, partFromValues, type PartJSON } from "../../parts/internal";
import type { FrequencyResponse } from "../../response";
import type { Entry } from "../entries";

/**
 * The entry of a network that a part in JSON describes.
 *
 * @param part with quantities in SI, as `readPartJSON` gives it
 * @param measured the measured impedance in Ω that stands for a driver; needed where the part names a `response`
 * @returns the part and its nodes
 * @throws DividingNetworkError what the part's constructor throws
 */
export function entryFromJSON(part: PartJSON<number>, measured?: FrequencyResponse): Entry {
  const places = part as unknown as Readonly<Record<"nodes" | "coils", readonly string[]>>;
  return Object.freeze([
    partFromValues(part.kind, jsonValues(part.kind, part), measured, part),
    ...places[jsonKinds[part.kind].places],
  ]) as unknown as Entry;
}

/** The JSON of an entry, quantities in SI; `response` names a measured driver's impedance. Values of 0 that may be left out are left out. */
export function partOfEntry(name: string, [part, ...places]: readonly [PartOrCoupling, ...string[]], response?: string): PartJSON<number> {
  const { kind } = part;
  const { fields, places: key, held, written = [], data = [] } = jsonKinds[kind];
  const whole = part as unknown as Readonly<Record<string, unknown>>;
  const leftOut = (field: string, value: number): boolean => fields[field]!.optional === true && value === 0 && !written.includes(field);
  const kept = Object.entries(jsonValues(kind, held?.(part) ?? part)).filter(([field, value]) => !leftOut(field, value));
  return {
    name,
    kind,
    ...(response === undefined ? {} : { response }),
    ...Object.fromEntries(kept),
    ...Object.fromEntries(data.map((each) => [each, whole[each]])),
    [key]: places,
  } as unknown as PartJSON<number>;
}
