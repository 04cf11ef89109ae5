/** Adds an admittance to the row of the node `from`; the voltage at `in` is 1, at `gnd` 0. */
export function stamp(a: Float64Array, width: number, m: number, from: number, to: number, yr: number, yi: number): void {
  if (from < 2) return;
  const row = 2 * (from - 2) * width;
  a[row + 2 * (from - 2)]! += yr;
  a[row + 2 * (from - 2) + 1]! += yi;
  if (to === 1) {
    a[row + 2 * m]! += yr;
    a[row + 2 * m + 1]! += yi;
  } else if (to > 1) {
    a[row + 2 * (to - 2)]! -= yr;
    a[row + 2 * (to - 2) + 1]! -= yi;
  }
}
