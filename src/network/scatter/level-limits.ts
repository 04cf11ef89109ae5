import { DividingNetworkError } from "../../errors";
import { checkList, checkOptions, show } from "../../errors/internal";

/** Bounds of one output: a number for all frequencies, or one for each (±Infinity: none there). */
export interface LevelLimit<O extends string = string> {
  /** The node, the part or `"impedance"` that is held. */
  readonly output: O;
  /** dB per volt of the source, at most, for nodes and parts. */
  readonly upperDb?: number | ArrayLike<number> | undefined;
  /** dB per volt of the source, at least, for nodes and parts. */
  readonly lowerDb?: number | ArrayLike<number> | undefined;
  /** Ω, at most, for `"impedance"`. */
  readonly upper?: number | ArrayLike<number> | undefined;
  /** Ω, at least, for `"impedance"`. */
  readonly lower?: number | ArrayLike<number> | undefined;
}

/** The same as squares of volts or ohms, by the output's place in the list. */
export interface SquareLimit {
  readonly output: number;
  readonly lower: Float64Array;
  readonly upper: Float64Array;
}

export function checkedLimits(
  caller: string,
  limits: LevelLimit | readonly LevelLimit[] | undefined,
  outputs: readonly string[],
  n: number,
): SquareLimit[] {
  if (limits === undefined) return [];
  const list = Array.isArray(limits) ? checkList(caller, "limits", limits as readonly LevelLimit[], "limits") : [limits as LevelLimit];
  return list.map((limit) => {
    const { output, upperDb, lowerDb, upper, lower } = checkOptions(`${caller}: limits`, limit, [
      "output",
      "upperDb",
      "lowerDb",
      "upper",
      "lower",
    ]);
    const place = outputs.indexOf(output);
    if (place < 0)
      throw new DividingNetworkError(
        "invalid-argument",
        `${caller}: "limits.output" must be one of the outputs, got ${show(output)}`,
        `Outputs: ${outputs.join(", ")}`,
      );
    const ohms = output === "impedance";
    if (ohms ? upperDb !== undefined || lowerDb !== undefined : upper !== undefined || lower !== undefined) {
      throw new DividingNetworkError(
        "invalid-argument",
        `${caller}: limits of ${show(output)} must be ${ohms ? '"upper" and "lower" in Ω' : '"upperDb" and "lowerDb" in dB'}`,
      );
    }
    const side = (name: string, given: number | ArrayLike<number> | undefined, none: number) => {
      const listed =
        (Array.isArray(given) || ArrayBuffer.isView(given))
        && (given as ArrayLike<unknown>).length === n
        && Array.from(given as ArrayLike<unknown>).every((bound) => typeof bound === "number");
      const bounds =
        given === undefined || typeof given === "number"
          ? new Float64Array(n).fill(given ?? none)
          : Float64Array.from(listed ? (given as ArrayLike<number>) : []);
      if (bounds.length !== n || bounds.some((bound) => Number.isNaN(bound) || (ohms && bound < 0))) {
        throw new DividingNetworkError(
          "invalid-argument",
          `${caller}: "limits.${name}" must be a number or ${n} numbers in ${ohms ? "Ω" : "dB"}, got ${show(given)}`,
        );
      }
      return bounds.map((bound) => (ohms ? bound * bound : 10 ** (bound / 10)));
    };
    return ohms
      ? { output: place, lower: side("lower", lower, 0), upper: side("upper", upper, Infinity) }
      : { output: place, lower: side("lowerDb", lowerDb, -Infinity), upper: side("upperDb", upperDb, Infinity) };
  });
}
