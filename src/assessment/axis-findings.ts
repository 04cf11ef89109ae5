import { axisCauseFindings } from "./axis-cause-findings";
import type { Context } from "./context";
import { distanceFindings } from "./distance-findings";
import type { Finding } from "./finding-data";
import { sensitivityFindings } from "./sensitivity-findings";
import { smoothnessFindings } from "./smoothness-findings";

/** What is found on the axis. */
export function axisFindings(context: Context): readonly Finding[] {
  return [...sensitivityFindings(context), ...smoothnessFindings(context), ...axisCauseFindings(context), ...distanceFindings(context)];
}
