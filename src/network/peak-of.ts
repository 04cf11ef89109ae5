/** Where a positive curve is largest, with the vertex of the parabola through the three points around it, in logarithms. */
export function peakOf(frequencies: Float64Array, values: Float64Array): { readonly frequency: number; readonly value: number } {
  const best = values.reduce((at, value, i) => (value > values[at]! ? i : at), 0);
  const plain = { frequency: frequencies[best]!, value: values[best]! };
  if (best === 0 || best === values.length - 1 || !(values[best - 1]! > 0) || !(values[best + 1]! > 0)) return plain;
  const [x, y] = [frequencies, values].map((list) => [-1, 1].map((side) => Math.log(list[best + side]! / list[best]!)));
  const [[x0, x1], [y0, y1]] = [x as [number, number], y as [number, number]];
  // y = bx + cx² through both neighbours and 0.
  const c = (y0 / x0 - y1 / x1) / (x0 - x1);
  const b = y0 / x0 - c * x0;
  const at = -b / (2 * c);
  if (!(c < 0) || !(at >= x0 && at <= x1)) return plain;
  return { frequency: plain.frequency * Math.exp(at), value: plain.value * Math.exp((b * at) / 2) };
}
