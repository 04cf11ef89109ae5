import type { FrequencyAxis } from "./frequency-axis";

/** The steps of a map, from high to low: from where on, dB, the fill, and its words. Fills are steps of "viridis", whose lightness falls with the level. */
export const MAP_CLASSES = [
  { above: 3, fill: "#fde725", outlined: true, label: "above +3 dB" },
  { above: -3, fill: "#fde725", outlined: false, label: "within ±3 dB" },
  { above: -6, fill: "#7ad151", outlined: false, label: "−3 to −6 dB" },
  { above: -9, fill: "#22a884", outlined: false, label: "−6 to −9 dB" },
  { above: -12, fill: "#2a788e", outlined: false, label: "−9 to −12 dB" },
  { above: -15, fill: "#414487", outlined: false, label: "−12 to −15 dB" },
  { above: -Infinity, fill: "#440154", outlined: false, label: "below −15 dB" },
] as const;

/** Which step a level belongs to; `undefined` for what is no number. */
export function mapClass(level: number): number | undefined {
  return Number.isNaN(level) ? undefined : MAP_CLASSES.findIndex(({ above }) => level > above || above === -Infinity);
}

/** Where a curve stays in one step, in px along the axis, to a pixel. */
export function runsOf(
  frequencies: ArrayLike<number>,
  values: ArrayLike<number>,
  axis: FrequencyAxis,
): readonly { readonly start: number; readonly end: number; readonly kind: number }[] {
  const runs: { start: number; end: number; kind: number }[] = [];
  const columns = Math.ceil(axis.width);
  let next = 1;
  for (let column = 0; column < columns; column++) {
    const frequency = axis.from * (axis.to / axis.from) ** ((column + 0.5) / axis.width);
    if (frequency < frequencies[0]! || frequency > frequencies[frequencies.length - 1]!) continue;
    while (next < frequencies.length - 1 && frequencies[next]! < frequency) next++;
    const [a, b] = [frequencies[next - 1]!, frequencies[next]!];
    const share = b === undefined || a <= 0 ? 0 : Math.log(frequency / a) / Math.log(b / a);
    const [low, high] = [values[next - 1]!, values[next] ?? values[next - 1]!];
    const kind = mapClass(low === high ? low : low + share * (high - low));
    const last = runs.at(-1);
    const end = Math.min(axis.width, column + 1);
    if (kind === undefined) continue;
    if (last !== undefined && last.kind === kind && last.end === column) last.end = end;
    else runs.push({ start: column, end, kind });
  }
  return runs;
}
