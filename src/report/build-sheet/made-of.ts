import type { Arrangement, BestCombination } from "../../parts";
import { isCoil } from "../../parts/internal";
import { signed } from "../../quantity/internal";

/** Relative: what differs less is the same part. */
const SAME = 5e-4;

/** What a part is really made of, where that isn't simply the part that is drawn: `"1 µF and 2.2 µF in series, +1.1 %"`. */
export function madeOfText({ says, parts, deviation }: BestCombination): string {
  if (parts.length === 1 && Math.abs(deviation) < SAME) return "";
  return `${says}${Math.abs(deviation) < SAME ? "" : `, ${signed(100 * deviation, 1)} %`}`;
}

/** How several pieces that stand in the place of one part are wired between its two joints; empty where it is one piece. */
export function wiredAsText(
  name: string,
  { says, parts, arrangement }: BestCombination,
  [from, to]: readonly [string, string],
  placed: boolean,
): string {
  if (parts.length === 1) return "";
  const whole =
    "series" in arrangement
      ? `end to end from ${from} to ${to}; what joins them in between goes nowhere else`
      : `each from ${from} to ${to}${holdsSeries(arrangement) ? "; what joins those in series goes nowhere else" : ""}`;
  const coils = isCoil(parts[0]!.part)
    ? ` The coils lie apart and at right angles, as all others.${placed ? " The place above is that of one coil of the whole value: find places for these." : ""}`
    : "";
  return `${name} is made of ${says}, ${whole}.${coils}`;
}

function holdsSeries(arrangement: Arrangement): boolean {
  return "series" in arrangement || ("parallel" in arrangement && arrangement.parallel.some(holdsSeries));
}
