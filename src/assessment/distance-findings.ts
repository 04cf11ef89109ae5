import { marksIn, type Context } from "./context";
import { decide } from "./finding";
import type { Finding } from "./finding-data";

const TOPIC = "on the axis";

/** How the shape of the response on the axis changes with distance. */
export function distanceFindings(context: Context): readonly Finding[] {
  const { before, after } = context;
  const at = `${after.distance} m`;
  return after.distances.map(({ distance, spreadDb }, index) => {
    const earlier = before.distances[index]!.spreadDb;
    return decide({
      topic: TOPIC,
      code: "distance",
      subject: `change of shape from ${at} to ${distance} m`,
      before: earlier,
      after: spreadDb,
      unit: "dB",
      decimals: 2,
      better: "lower",
      threshold: {
        value: 1,
        comparison: "at most",
        reason: "a listener who moves back should hear the same balance (common practice, no source)",
      },
      negligible: 0.1,
      says: `Between ${at} and ${distance} m the shape of the response changes by ${earlier.toFixed(2)} dB (standard deviation) before and ${spreadDb.toFixed(2)} dB after`,
      marks: marksIn(context, after.band),
    });
  });
}
