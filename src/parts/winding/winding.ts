import { DividingNetworkError } from "../../errors";
import { checkNumber, checkOptions } from "../../errors/internal";
import type { Length } from "../../quantity";
import { inSi } from "../../quantity/internal";
import type { Section } from "./gap";

/** A round winding of rectangular section, as it is given: lengths in metres, or text with a unit. */
export interface Winding {
  /** Number of turns, above 0; need not be whole. */
  readonly turns: number;
  /** From the axis to the middle of the section. */
  readonly meanRadius: Length;
  /** Along the axis; 0 m for a flat disc. */
  readonly length: Length;
  /** From the innermost to the outermost turn; 0 m for a single thin layer; at most twice the mean radius. */
  readonly depth: Length;
}

/** The same in metres. */
export interface CheckedWinding extends Section {
  /** Number of turns. */
  readonly turns: number;
}

/** Checks a winding; a section of nothing is refused, since its self-inductance is not finite. */
export function checkedWinding(caller: string, given: Winding, name = ""): CheckedWinding {
  checkOptions(caller, given, ["turns", "meanRadius", "length", "depth"]);
  const { turns, meanRadius, length, depth } = given ?? {};
  const at = (key: string): string => (name === "" ? key : `${name}.${key}`);
  const checked = {
    turns: checkNumber(caller, at("turns"), turns, { above: 0 }),
    meanRadius: inSi(caller, at("meanRadius"), meanRadius, "m", { above: 0 }),
    length: inSi(caller, at("length"), length, "m", { min: 0 }),
    depth: inSi(caller, at("depth"), depth, "m", { min: 0 }),
  };
  if (checked.depth > 2 * checked.meanRadius * (1 + 1e-12)) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "${at("depth")}" must be at most twice the mean radius of ${checked.meanRadius} m, got ${checked.depth}`,
      "The innermost turn would lie beyond the axis",
    );
  }
  if (Math.max(checked.length, checked.depth) < 1e-9 * checked.meanRadius) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "${at("length")}" or "${at("depth")}" must be at least 1e-9 of the mean radius, got ${checked.length} and ${checked.depth}`,
      "A filament has no finite self-inductance: give the winding its section",
    );
  }
  return checked;
}
