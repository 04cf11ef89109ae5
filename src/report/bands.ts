import { hertz } from "../quantity/internal";
import { DividingNetworkError } from "../errors";
import { show } from "../errors/internal";
import type { Mark } from "../response";
import { checkText, element, type Markup } from "./markup";
import { LIGHT } from "./theme";

/** What is said of each kind of mark in the note under a plot. */
const WORDS: Readonly<Record<Mark["kind"], string>> = {
  "no-data": "No data",
  coarse: "Coarse",
  model: "Model",
  splice: "Splice",
  smoothed: "Smoothed",
  uncertain: "Uncertain",
};

/** A shaded band of a plot, or a note on the whole of it, with the sentence that explains it. */
export interface Band {
  readonly kind: Mark["kind"];
  /** Hz, within the plot. */
  readonly from: number;
  readonly to: number;
  /** False when the mark holds for all that the plot shows: then there is nothing to set apart. */
  readonly shaded: boolean;
  readonly text: string;
}

/** At most this many notes are written under a plot; the last then says how many were left out. */
const MOST = 12;

/** Checks one mark given from outside. */
export function checkMark(caller: string, argument: string, mark: Mark): Mark {
  if (typeof mark !== "object" || mark === null || !Object.hasOwn(WORDS, mark.kind)) {
    const kinds = Object.keys(WORDS)
      .map((kind) => `"${kind}"`)
      .join(", ");
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "${argument}.kind" must be one of ${kinds}, got ${show((mark as Partial<Mark> | null | undefined)?.kind)}`,
    );
  }
  checkText(caller, `${argument}.note`, mark.note);
  for (const end of ["from", "to"] as const) {
    const value: unknown = mark[end];
    if (value !== undefined && (typeof value !== "number" || !(value >= 0))) {
      throw new DividingNetworkError(
        "invalid-argument",
        `${caller}: "${argument}.${end}" must be a frequency of at least 0 Hz, got ${show(value)}`,
      );
    }
  }
  return mark;
}

/** What a mark says, of what kind it is and where within `from`…`to`. */
export function markText(mark: Mark, from: number, to: number, whose = ""): string {
  const start = Math.max(from, mark.from ?? 0);
  const end = Math.min(to, mark.to ?? Infinity);
  const where =
    start > from && end < to
      ? `${hertz(start)} to ${hertz(end)}`
      : start > from
        ? `above ${hertz(start)}`
        : end < to
          ? `below ${hertz(end)}`
          : "throughout";
  return `${WORDS[mark.kind]} ${where}${whose}: ${mark.note}`;
}

/**
 * The bands that the marks of several curves make within `from`…`to`: equal marks become one, which names the curves
 * it belongs to unless it holds for all of them.
 */
export function bandsOf(
  curves: readonly { readonly label: string; readonly marks: readonly Mark[] }[],
  from: number,
  to: number,
): readonly Band[] {
  const found = new Map<string, { mark: Mark; labels: Set<string> }>();
  const everyone = new Set(curves.map(({ label }) => label));
  for (const { label, marks } of curves) {
    for (const mark of marks) {
      if ((mark.from ?? 0) >= to || (mark.to ?? Infinity) <= from) continue;
      const key = JSON.stringify([mark.kind, mark.from, mark.to, mark.note]);
      const entry = found.get(key) ?? { mark, labels: new Set<string>() };
      entry.labels.add(label);
      found.set(key, entry);
    }
  }
  return Array.from(found.values(), ({ mark, labels }) => {
    const start = Math.max(from, mark.from ?? 0);
    const end = Math.min(to, mark.to ?? Infinity);
    const whose = labels.size < everyone.size ? ` (${[...labels].join(", ")})` : "";
    return { kind: mark.kind, from: start, to: end, shaded: start > from || end < to, text: markText(mark, from, to, whose) };
  });
}

/** The bands whose notes fit under a plot, and the sentence about the rest, if any. */
export function notesOf(bands: readonly Band[]): readonly (Band | string)[] {
  if (bands.length <= MOST) return bands;
  return [...bands.slice(0, MOST - 1), `and ${bands.length - MOST + 1} more bands`];
}

/** The bands to shade, those of one kind that touch or overlap as one. */
export function unions(bands: readonly Band[]): readonly Pick<Band, "kind" | "from" | "to">[] {
  return (Object.keys(WORDS) as Mark["kind"][]).flatMap((kind) => {
    const merged: { kind: Mark["kind"]; from: number; to: number }[] = [];
    for (const { from, to } of bands.filter((band) => band.shaded && band.kind === kind).sort((a, b) => a.from - b.from)) {
      const last = merged[merged.length - 1];
      if (last !== undefined && from <= last.to) last.to = Math.max(last.to, to);
      else merged.push({ kind, from, to });
    }
    return merged;
  });
}

/** The look of a kind of mark, filling a box of px: a plain fill or hatching, distinct without colour. */
export function shading(kind: Mark["kind"], x: number, y: number, width: number, height: number): Markup {
  const attributes = { x, y, width, height };
  if (kind === "no-data") return element("rect", { class: "dn-band", fill: LIGHT.band, ...attributes });
  const lines: string[] = [];
  const gap = kind === "splice" ? 4 : 7;
  if (kind === "splice") for (let at = gap / 2; at < width; at += gap) lines.push(`M${at} 0V${height}`);
  else if (kind === "coarse" || kind === "smoothed") for (let at = gap / 2; at < height; at += gap) lines.push(`M0 ${at}H${width}`);
  else {
    for (let at = -height; at < width; at += gap)
      lines.push(kind === "model" ? `M${at} ${height}l${height} ${-height}` : `M${at} 0l${height} ${height}`);
  }
  const dashes = kind === "smoothed" ? "1.5 5.5" : kind === "coarse" ? "5 3" : undefined;
  const hatch = element("path", {
    class: "dn-hatch",
    stroke: LIGHT.hatch,
    "stroke-width": kind === "smoothed" ? 1.5 : 1,
    "stroke-dasharray": dashes,
    d: lines.join(""),
  });
  return element("svg", attributes, hatch);
}
