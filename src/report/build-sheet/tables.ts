import { formatQuantity } from "../../quantity";
import type { WiredPart } from "./joints";
import type { MeterReading } from "./readings";

/** What parts and meter may make of a reading: a tenth to either side, and 0.3 Ω of leads for direct current (common practice, no source). */
const [PART, LEADS] = [0.1, 0.3];

export const WIRING_COLUMNS = [{ label: "Part" }, { label: "Value" }, { label: "From – to" }, { label: "Measured" }] as const;

/** Part, value, where its terminals go, and room for what was measured. */
export function wiringRows(parts: readonly WiredPart[]): readonly (readonly string[])[] {
  return parts.map(({ designator, part, taken, terminals, note }) => [
    designator,
    taken === undefined ? part : `${part}: ${taken}`,
    note === ""
      ? terminals.map(({ terminal, joint }) => `${terminal}\u00A0→\u00A0${joint}`).join(", ")
      : terminals.map(({ joint }) => joint).join(" – "),
    "________",
  ]);
}

export const READING_COLUMNS = [{ label: "Meter" }, { label: "Should read" }, { label: "Between" }, { label: "Read" }] as const;

/** Where the leads go, what is expected with its room, and room for what was read. */
export function readingRows(readings: readonly MeterReading[]): readonly (readonly string[])[] {
  return readings.map(({ where, frequency, expected }) => [
    frequency === 0 ? where : formatQuantity(frequency, "Hz"),
    expected === "open" ? "open" : ohms(expected),
    expected === "open"
      ? "climbs, or nothing"
      : `${ohms((1 - PART) * expected).replace(" Ω", "")} and ${ohms((1 + PART) * expected + (frequency === 0 ? LEADS : 0))}`.replaceAll(
          " ",
          "\u00A0",
        ),
    "________",
  ]);
}

/** To the hundredth below 10 Ω, as a meter shows it. */
function ohms(value: number): string {
  return value >= 1000 ? formatQuantity(value, "Ω") : `${value.toFixed(value < 10 ? 2 : 1)} Ω`;
}
