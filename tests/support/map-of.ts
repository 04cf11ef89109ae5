import { polarMapFromResponses, type PolarMap } from "dividing-network/radiation";
import { frequencyResponse } from "dividing-network/response";

/** A polar map of a pattern: its pressure at an angle in degrees and a frequency in Hz. */
export function mapOf(
  plane: "horizontal" | "vertical",
  angles: readonly number[],
  frequencies: readonly number[],
  pressure: (angle: number, frequency: number) => number,
  distance = 2,
): PolarMap {
  return polarMapFromResponses(
    angles.map((angle) => ({
      angle,
      response: frequencyResponse(
        frequencies,
        frequencies.map((frequency) => pressure(angle, frequency)),
        frequencies.map(() => 0),
      ),
    })),
    { plane, distance },
  );
}

/** Angles from one to another in equal steps, degrees. */
export const steps = (from: number, to: number, by: number): number[] =>
  Array.from({ length: Math.round((to - from) / by) + 1 }, (_, i) => from + i * by);
