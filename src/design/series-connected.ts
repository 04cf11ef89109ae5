import type { Loudspeaker } from "../loudspeaker";
import type { Entry } from "../network";
import { branchPen, hung } from "./branch-pen";
import { filterRange, padRange } from "./drawing";
import type { Drawing, Slot } from "./drawing-data";
import type { Group } from "./driver-groups";

/**
 * A two-way whose drivers are connected one after the other: the upper one from `in` to the middle, bridged by a coil; the lower one from there to `gnd`, bridged by a capacitor. With two elements to each, the upper
 * driver has a capacitor before it and the lower one a coil. Everything hangs together, so that it is one branch: all its values are searched at once, thinned.
 */
export function seriesDrawing(box: Loudspeaker, groups: readonly Group[], order: 1 | 2, padded: boolean): Drawing {
  const entries: Record<string, Entry> = {};
  const slots: Record<string, Slot> = {};
  const [lower, upper] = [groups[0]!, groups[1]!];
  const key = `series/${order}/${padded ? "padded" : ""}`;
  const pen = branchPen(key, entries, slots);
  const range = (letter: "L" | "C", { load }: Group) => filterRange(letter, load, upper.below!);
  const middle = `${key} middle`;
  pen.put("L", "across", range("L", upper), "in", middle);
  if (order === 2) {
    pen.put("C", "series", range("C", upper), pen.at(), `${key} a`);
    pen.go(`${key} a`);
  }
  if (padded) {
    pen.put("R", "series", padRange(upper.load), pen.at(), `${key} b`);
    pen.go(`${key} b`);
  }
  for (const part of upper.parts) entries[part] = hung(box.network, part, pen.at(), middle);
  pen.put("C", "across", range("C", lower), middle, "gnd");
  pen.go(middle);
  if (order === 2) {
    pen.put("L", "series", range("L", lower), middle, `${key} c`);
    pen.go(`${key} c`);
  }
  for (const part of lower.parts) entries[part] = hung(box.network, part, pen.at(), "gnd");
  return { network: Object.freeze(entries), slots: Object.freeze(slots) };
}
