import type { Loudspeaker } from "../loudspeaker";
import type { Entry } from "../network";
import { branchPen, hung, type BranchPen, type Range } from "./branch-pen";
import type { Drawing, Slot } from "./drawing-data";
import { zobelOf, type Group } from "./driver-groups";
import { keyOf, type BranchTopology } from "./topologies";

/**
 * The drawing of a combination: branches between `in` and `gnd`, in which each group's drivers lie in parallel. Designators and nodes begin with what the branch is, so that one branch
 * has the same in every drawing that holds it; `namesFor` gives the parts the names that a person writes.
 */
export function drawingOf(box: Loudspeaker, groups: readonly Group[], ways: readonly BranchTopology[]): Drawing {
  const entries: Record<string, Entry> = {};
  const slots: Record<string, Slot> = {};
  groups.forEach((group, index) => {
    const way = ways[index]!;
    const { highPass, lowPass, padFirst, trap } = way;
    const load = way.pair === "in series" ? group.load * group.parts.length ** 2 : group.load;
    const pen = branchPen(keyOf(way), entries, slots);
    if (padFirst === true) drawPad(pen, way, load);
    if (group.below !== undefined) drawFilter(pen, highPass, "C", load, group.below, false);
    if (group.above !== undefined) drawFilter(pen, lowPass, "L", load, group.above, way.bypass === true);
    if (padFirst !== true) drawPad(pen, way, load);
    if (trap !== undefined) drawTrap(pen, trap, load, group);
    if (way.zobel) drawZobel(pen, zobelOf(box, group)!);
    drawDrivers(pen, way, load, group, (part, from, to) => {
      entries[part] = hung(box.network, part, from, to);
    });
  });
  return { network: Object.freeze(entries), slots: Object.freeze(slots) };
}

/** H or F: what a filter's part may be, for a corner anywhere in the handover. */
export function filterRange(letter: "L" | "C", load: number, [low, high]: Range): Range {
  return letter === "L"
    ? [(0.4 * load) / (2 * Math.PI * high), (2.5 * load) / (2 * Math.PI * low)]
    : [0.4 / (2 * Math.PI * high * load), 2.5 / (2 * Math.PI * low * load)];
}

/** Ω: what a resistor before a driver may be. */
export const padRange = (load: number): Range => [0.08 * load, 2.5 * load];

/** Elements in series and across by turns, the first in series. */
function drawFilter(pen: BranchPen, order: number, series: "L" | "C", load: number, handover: Range, bridged: boolean): void {
  const [low, high] = handover;
  const across = series === "L" ? "C" : "L";
  for (let i = 0; i < order; i++) {
    if (i % 2 === 1) pen.put(across, "across", filterRange(across, load, handover), pen.at(), "gnd");
    else {
      const next = pen.node();
      pen.put(series, "series", filterRange(series, load, handover), pen.at(), next);
      // What the capacitor takes from the coil lies above the handover.
      if (i === 0 && bridged)
        pen.put("C", "across", [0.02 / (2 * Math.PI * high * load), 0.6 / (2 * Math.PI * low * load)], pen.at(), next);
      pen.go(next);
    }
  }
}

/** A resistor in series, or one in series and one across. */
function drawPad(pen: BranchPen, { pad, bypass, lowPass }: BranchTopology, load: number): void {
  if (pad === "none") return;
  const next = pen.node();
  pen.put("R", "series", padRange(load), pen.at(), next);
  // Half way up, the capacitor's reactance is the resistance: between 3 and 20 kHz.
  if (bypass === true && lowPass === 0)
    pen.put("C", "across", [1 / (2 * Math.PI * 20_000 * load), 1 / (2 * Math.PI * 3000 * 0.3 * load)], pen.at(), next);
  pen.go(next);
  if (pad === "divider") pen.put("R", "across", [0.5 * load, 10 * load], pen.at(), "gnd");
}

/** A coil, a capacitor and a resistor: one after the other across the driver, or beside one another before it. */
function drawTrap(pen: BranchPen, trap: "across" | "series", load: number, { below, above }: Group): void {
  // Somewhere between the handovers, or beyond the upper one: where cones break up and domes resonate.
  const [low, high] = [below === undefined ? above![0] : 0.5 * below[0], 12_000];
  const [l, c] = [
    [(0.3 * load) / (2 * Math.PI * high), load / (2 * Math.PI * low)],
    [1 / (2 * Math.PI * high * load), 1 / (0.3 * 2 * Math.PI * low * load)],
  ] as const;
  const r = [0.2 * load, 3 * load] as const;
  if (trap === "across") {
    const together = { together: "trap" };
    const [one, two] = [pen.node(), pen.node()];
    pen.put("L", "across", l, pen.at(), one, together);
    pen.put("C", "across", c, one, two, together);
    pen.put("R", "across", r, two, "gnd", together);
    return;
  }
  const together = { together: "trap in series" };
  const next = pen.node();
  pen.put("L", "across", [l[0] / 2, l[1] / 2], pen.at(), next, together);
  pen.put("C", "across", [c[0] * 2, c[1] * 2], pen.at(), next, together);
  pen.put("R", "across", r, pen.at(), next, together);
  pen.go(next);
}

/** A resistor and a capacitor across the driver, of known values. */
function drawZobel(pen: BranchPen, { r, c }: { readonly r: number; readonly c: number }): void {
  const next = pen.node();
  pen.put("R", "across", [r, r], pen.at(), next, { fixed: r, together: "zobel" });
  pen.put("C", "across", [c, c], next, "gnd", { fixed: c, together: "zobel" });
}

/** The drivers: side by side, one after the other, or the second behind a coil of its own. */
function drawDrivers(
  pen: BranchPen,
  { pair }: BranchTopology,
  load: number,
  { parts, above }: Group,
  hang: (part: string, from: string, to: string) => void,
): void {
  parts.forEach((part, place) => {
    const from = pen.at();
    if (pair === "in series" && place + 1 < parts.length) {
      pen.go(pen.node());
      hang(part, from, pen.at());
    } else if (pair === "rolled off" && place === 1) {
      const own = pen.node();
      pen.put("L", "series", [load / (2 * Math.PI * above![1]), (6 * load) / (2 * Math.PI * 0.25 * above![0])], from, own);
      hang(part, own, "gnd");
    } else hang(part, from, "gnd");
  });
}
