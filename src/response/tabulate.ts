/**
 * A smooth function of the index, written from `from` to `to`: where it may be, as far as `every` few points, at these alone, and cubics
 * between.
 */
export function tabulate(out: Float64Array, from: number, to: number, every: number, value: (k: number) => number): void {
  if (every < 4) {
    for (let k = from; k < to; k++) out[k] = value(k);
    return;
  }
  let [y0, y1, y2, y3] = [value(from - every), value(from), value(from + every), value(from + 2 * every)];
  for (let start = from; start < to; start += every) {
    const a1 = y2 - y0 / 3 - y1 / 2 - y3 / 6;
    const a2 = (y0 + y2) / 2 - y1;
    const a3 = (y1 - y2) / 2 + (y3 - y0) / 6;
    const stop = Math.min(to, start + every);
    for (let k = start; k < stop; k++) {
      const p = (k - start) / every;
      out[k] = y1 + p * (a1 + p * (a2 + p * a3));
    }
    [y0, y1, y2, y3] = [y1, y2, y3, value(start + 3 * every)];
  }
}
