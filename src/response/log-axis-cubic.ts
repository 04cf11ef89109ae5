/** The cubic through the four grid values around a place counted in steps. */
export function cubicOnGrid(grid: Float64Array, place: number): number {
  const k = Math.floor(place);
  const p = place - k;
  const q = 1 - p;
  const inner = (1 + p) * (1 + q);
  return (inner * (q * grid[k]! + p * grid[k + 1]!)) / 2 - (p * q * ((1 + q) * grid[k - 1]! + (1 + p) * grid[k + 2]!)) / 6;
}

/** Values at the data: cos φ and sin φ by cubics through those of the grid, brought to the magnitude, which `re` holds at first. */
export function interpolateUnit(
  x: Float64Array,
  phase: Float64Array,
  before: number,
  step: number,
  re: Float64Array,
  im: Float64Array,
): void {
  const gridCos = new Float64Array(phase.length);
  const gridSin = new Float64Array(phase.length);
  const last = Math.min(phase.length, before + Math.ceil((x[x.length - 1]! - x[0]!) / step) + 3);
  for (let k = Math.max(0, before - 1); k < last; k++) {
    gridCos[k] = Math.cos(phase[k]!);
    gridSin[k] = Math.sin(phase[k]!);
  }
  const scale = 1 / step;
  const origin = x[0]!;
  const n = x.length;
  for (let i = 0; i < n;) {
    const k = Math.floor((x[i]! - origin) * scale + before);
    const start = origin + (k - before) * step;
    const end = start + step;
    const c0 = gridCos[k]!;
    const c1 = gridCos[k + 1]! - gridCos[k - 1]! / 3 - c0 / 2 - gridCos[k + 2]! / 6;
    const c2 = (gridCos[k - 1]! + gridCos[k + 1]!) / 2 - c0;
    const c3 = (c0 - gridCos[k + 1]!) / 2 + (gridCos[k + 2]! - gridCos[k - 1]!) / 6;
    const s0 = gridSin[k]!;
    const s1 = gridSin[k + 1]! - gridSin[k - 1]! / 3 - s0 / 2 - gridSin[k + 2]! / 6;
    const s2 = (gridSin[k - 1]! + gridSin[k + 1]!) / 2 - s0;
    const s3 = (s0 - gridSin[k + 1]!) / 2 + (gridSin[k + 2]! - gridSin[k - 1]!) / 6;
    do {
      const p = (x[i]! - start) * scale;
      const c = c0 + p * (c1 + p * (c2 + p * c3));
      const s = s0 + p * (s1 + p * (s2 + p * s3));
      const size = re[i]! / Math.sqrt(c * c + s * s);
      re[i] = c * size;
      im[i] = s * size;
      i++;
    } while (i < n && x[i]! < end);
  }
}
