import { pixels } from "./markup";
import { LARGEST } from "./value-axis";

/** One unbroken run of a curve: x and y in px, alternating. */
export type Run = readonly number[];

/** How a curve's values become px. */
export interface Mapping {
  readonly x: (frequency: number) => number;
  readonly y: (value: number) => number;
  /** Px; what lies outside 0…width is cut off, with the cut interpolated. */
  readonly width: number;
  /** The line is broken between two values that differ by more. */
  readonly breakStep?: number;
}

/** Beyond this many px above or below, a point is moved to the limit: it is far outside of any plot. */
const FAR = 1e4;

/**
 * The runs of a curve in px. A value that is not finite breaks the line. Of the points that fall into one column of
 * pixels only the first, the lowest, the highest and the last are kept, in order, so that a million points draw the
 * same picture as a few thousand.
 */
export function polyline(frequencies: ArrayLike<number>, values: ArrayLike<number>, mapping: Mapping): Run[] {
  const runs: Run[] = [];
  let run: number[] = [];
  let column = -1;
  let held: number[] = [];

  const flush = (): void => {
    if (held.length <= 8) run.push(...held);
    else {
      let low = 0;
      let high = 0;
      for (let i = 2; i < held.length; i += 2) {
        if (held[i + 1]! < held[low + 1]!) low = i;
        if (held[i + 1]! > held[high + 1]!) high = i;
      }
      const kept = [0, Math.min(low, high), Math.max(low, high), held.length - 2];
      for (const [index, at] of kept.entries()) {
        if (index === 0 || at !== kept[index - 1]) run.push(held[at]!, held[at + 1]!);
      }
    }
    held = [];
  };
  const add = (x: number, y: number): void => {
    if (Math.floor(x) !== column) {
      flush();
      column = Math.floor(x);
    }
    held.push(x, y);
  };
  const cut = (): void => {
    flush();
    if (run.length > 0) runs.push(run);
    run = [];
    column = -1;
  };

  let beforeX = NaN;
  let beforeY = NaN;
  let beforeValue = NaN;
  for (let i = 0; i < values.length; i++) {
    const value = values[i]!;
    const x = mapping.x(frequencies[i]!);
    if (!(Math.abs(value) <= LARGEST) || !Number.isFinite(x)) {
      cut();
      beforeX = NaN;
      continue;
    }
    const y = Math.max(-FAR, Math.min(FAR, mapping.y(value)));
    if (mapping.breakStep !== undefined && Math.abs(value - beforeValue) > mapping.breakStep) {
      cut();
      beforeX = NaN;
    }
    const edge = (at: number): number => beforeY + ((y - beforeY) * (at - beforeX)) / (x - beforeX);
    if (beforeX < 0 && x > 0) add(0, edge(0));
    if (x >= 0 && x <= mapping.width) add(x, y);
    else if (x > mapping.width) {
      if (beforeX < mapping.width) add(mapping.width, edge(mapping.width));
      break;
    }
    beforeX = x;
    beforeY = y;
    beforeValue = value;
  }
  cut();
  return runs;
}

/** The runs as SVG path data; a run of one point is a dot. */
export function pathData(runs: readonly Run[]): string {
  let data = "";
  for (const run of runs) {
    data += `M${pixels(run[0]!)} ${pixels(run[1]!)}`;
    if (run.length === 2) data += "h0";
    else data += "L";
    for (let i = 2; i < run.length; i += 2) data += `${i === 2 ? "" : " "}${pixels(run[i]!)} ${pixels(run[i + 1]!)}`;
  }
  return data;
}
