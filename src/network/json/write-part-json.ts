import { jsonKinds, type PartJSON } from "../../parts/internal";
import { formatQuantity } from "../../quantity";
import { toleranceText } from "../../quantity/internal";

/**
 * A part in JSON with its quantities as text, in the fewest digits that read back to the same number: `"0.47 mH"`. Only the sign of
 * a zero is lost.
 *
 * @param part with quantities in SI, as `readPartJSON` gives it
 * @returns the same part with text in place of every quantity
 */
export function writePartJSON(part: PartJSON<number>): PartJSON<string> {
  const { fields } = jsonKinds[part.kind];
  return Object.fromEntries(
    Object.entries(part).map(([key, value]: [string, unknown]) => {
      const { unit, percent = false } = Object.hasOwn(fields, key) ? fields[key]! : {};
      if (percent && typeof value === "number") return [key, toleranceText(value)];
      return [key, unit === undefined || typeof value !== "number" ? value : formatQuantity(value, unit, { digits: "exact" })];
    }),
  ) as unknown as PartJSON<string>;
}
