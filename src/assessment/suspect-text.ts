import { DividingNetworkError } from "../errors";
import { checkList, checkObject, checkOneOf, show } from "../errors/internal";
import { formatQuantity } from "../quantity";
import { fixed, listOf } from "../quantity/internal";
import type { Suspect } from "./suspects/groups";

/**
 * A suspect in a few words, with its fitted value in its own unit.
 *
 * @param suspect from `suspects`
 * @returns text, its number in Ω, H or F
 * @example
 * ```ts
 * import { suspectText } from "dividing-network/assessment";
 *
 * suspectText({ parts: ["C1"], fault: "value", value: 22e-6, unit: "F", misfit: 0.1 }); // "C1 is 22 µF"
 * ```
 */
export function suspectText(suspect: Suspect): string {
  const {
    parts,
    fault,
    value,
    unit = "Ω",
    capacitance,
    to,
    alike = [],
  } = checkObject("suspectText", "suspect", suspect, "one of what suspects gives");
  const named = [...checkList("suspectText", "suspect.parts", parts, "designators"), fault, unit, to ?? ""];
  if (
    !named.every((word) => typeof word === "string")
    || ![value, capacitance].every((number) => number === undefined || Number.isFinite(number))
  )
    throw new DividingNetworkError("invalid-argument", `suspectText: "suspect" must be one of what suspects gives, got ${show(suspect)}`);
  checkOneOf("suspectText", "suspect.unit", unit, ["Ω", "H", "F", "dB"]);
  const list = listOf(parts);
  const number = value === undefined ? "" : unit === "dB" ? `${fixed(Math.abs(value), 1)} dB` : formatQuantity(value, unit, { digits: 3 });
  const words: Readonly<Record<Suspect["fault"], string>> = {
    open: `${list} open`,
    short: `${list} shorted${value === undefined ? "" : ` by ${number}`}`,
    value: `${list} is ${number}`,
    loss: `${list} ${capacitance === undefined ? "" : `of ${formatQuantity(capacitance, "F", { digits: 3 })} `}with ${number} in series`,
    reversed: `${list} reversed`,
    exchanged: `${list} exchanged`,
    moved: `a wire of ${list} at ${to ?? "another node"}`,
    "impedances exchanged": `the impedances of ${list} exchanged, as they were measured or named`,
    drive: `${list} ${number} ${(value ?? 0) > 0 ? "louder" : "quieter"} than measured alone, by the stated voltages`,
    unknown: "no single fault that is known",
  };
  checkOneOf("suspectText", "suspect.fault", fault, Object.keys(words) as Suspect["fault"][]);
  const others = checkList("suspectText", "suspect.alike", alike, "faults")
    .slice(0, 3)
    .map((other) => suspectText({ ...other, misfit: 0 }));
  return `${words[fault]}${others.length === 0 ? "" : ` (or, not to be told apart: ${others.join(", ")})`}`;
}
