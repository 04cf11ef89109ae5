import type { Loudspeaker } from "../loudspeaker";
import type { Entry } from "../network";
import { capacitor, inductor, resistor } from "../parts";
import type { Drawing, Group, Slot } from "./topologies";

/**
 * A two-way whose drivers are connected one after the other: the upper one from `in` to the middle, bridged by a coil; the lower one from there to `gnd`, bridged by a capacitor. With two elements to each, the upper
 * driver has a capacitor before it and the lower one a coil. Everything hangs together, so that it is one branch: all its values are searched at once, thinned.
 */
export function seriesDrawing(box: Loudspeaker, groups: readonly Group[], order: 1 | 2, padded: boolean): Drawing {
  const entries: Record<string, Entry> = {};
  const slots: Record<string, Slot> = {};
  const [lower, upper] = [groups[0]!, groups[1]!];
  const [low, high] = upper.below!;
  const key = `series/${order}/${padded ? "padded" : ""}`;
  const put = (letter: "L" | "C" | "R", way: Slot["way"], [from, to]: readonly [number, number], a: string, b: string) => {
    const name = `${key} ${letter}${Object.keys(slots).length + 1}`;
    const middle = Math.sqrt(from * to);
    entries[name] = Object.freeze([
      letter === "L" ? inductor(middle) : letter === "C" ? capacitor(middle) : resistor(middle),
      a,
      b,
    ]) as unknown as Entry;
    slots[name] = Object.freeze({
      kind: letter === "L" ? "inductor" : letter === "C" ? "capacitor" : "resistor",
      way,
      branch: key,
      from,
      to,
    });
  };
  const coil = (load: number): readonly [number, number] => [(0.4 * load) / (2 * Math.PI * high), (2.5 * load) / (2 * Math.PI * low)];
  const film = (load: number): readonly [number, number] => [0.4 / (2 * Math.PI * high * load), 2.5 / (2 * Math.PI * low * load)];
  const middle = `${key} middle`;
  let at = "in";
  const step = (next: string) => (at = next);
  put("L", "across", coil(upper.load), "in", middle);
  if (order === 2) {
    put("C", "series", film(upper.load), at, `${key} a`);
    step(`${key} a`);
  }
  if (padded) {
    put("R", "series", [0.08 * upper.load, 2.5 * upper.load], at, `${key} b`);
    step(`${key} b`);
  }
  for (const part of upper.parts) entries[part] = Object.freeze([box.network[part]![0], at, middle]) as unknown as Entry;
  put("C", "across", film(lower.load), middle, "gnd");
  at = middle;
  if (order === 2) {
    put("L", "series", coil(lower.load), at, `${key} c`);
    step(`${key} c`);
  }
  for (const part of lower.parts) entries[part] = Object.freeze([box.network[part]![0], at, "gnd"]) as unknown as Entry;
  return { network: Object.freeze(entries), slots: Object.freeze(slots) };
}
