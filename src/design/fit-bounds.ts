import { DividingNetworkError } from "../errors";
import { checkNumber, show } from "../errors/internal";
import { inSi } from "../quantity/internal";

/** What may be fitted, by the name of the part's property. */
export type FitParameter = "resistance" | "inductance" | "capacitance" | "k" | "ratio";

/** Where a value is begun with and between which values it stays; for a ratio below 0 these come with its sign. */
interface Bounds {
  readonly drawn: number;
  readonly from: number;
  readonly to: number;
}

const UNITS = { resistance: "Ω", inductance: "H", capacitance: "F" } as const;
/** How far a value may go from where it is drawn, unless bounds are stated. */
const DECADE = 10;
/** How tightly coils may come to be coupled, unless bounds are stated (choice, no source): beyond, they hardly are two. */
const TIGHTEST = 0.95;

/** The bounds of one value, stated or by default. */
export function boundsFor(caller: string, name: string, parameter: FitParameter, drawn: number, from: unknown, to: unknown): Bounds {
  const stated = (key: "from" | "to", given: unknown): number | undefined => {
    if (given === undefined) return undefined;
    const argument = `vary.${name}.${key}`;
    if (parameter === "k") return checkNumber(caller, argument, given, { above: -1, below: 1 });
    if (parameter === "ratio") return checkNumber(caller, argument, given, { above: 0 });
    return inSi(caller, argument, given, UNITS[parameter], { above: 0 });
  };
  const [low, high] = [stated("from", from), stated("to", to)];
  if (parameter === "k") {
    const least = low ?? Math.min(-TIGHTEST, drawn);
    return ordered(caller, name, "", drawn, least, high ?? Math.max(TIGHTEST, drawn, least));
  }
  const sign = parameter === "ratio" && drawn < 0 ? -1 : 1;
  const size = sign * drawn;
  if (!(size > 0) && (low === undefined || high === undefined))
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "vary" names ${name}, which is drawn with 0: there is no scale for its bounds`,
      `Give from and to, or draw it with a guess above 0`,
    );
  const least = low ?? size / DECADE;
  const bounds = ordered(caller, name, parameter === "ratio" ? "" : UNITS[parameter], size, least, high ?? Math.max(size * DECADE, least));
  return sign > 0 ? bounds : { drawn: -bounds.drawn, from: -bounds.from, to: -bounds.to };
}

function ordered(caller: string, name: string, unit: string, drawn: number, from: number, to: number): Bounds {
  if (!(from <= to))
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "vary.${name}" must have from below to, got ${show(from)} and ${show(to)} ${unit}`.trimEnd(),
    );
  return { drawn: Math.min(to, Math.max(from, drawn)), from, to };
}
