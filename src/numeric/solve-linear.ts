/** A few equations for as many unknowns, by Gauss and Jordan with exchange of rows; undefined when a pivot is 0. */
export function solveLinear(matrix: number[][], right: readonly number[]): number[] | undefined {
  const rows = matrix.map((row, i) => [...row, right[i]!]);
  const n = rows.length;
  for (let k = 0; k < n; k++) {
    const pivot = rows.slice(k).reduce((best, row, i) => (Math.abs(row[k]!) > Math.abs(rows[best]![k]!) ? i + k : best), k);
    [rows[k], rows[pivot]] = [rows[pivot]!, rows[k]!];
    if (rows[k]![k] === 0) return undefined;
    for (let i = 0; i < n; i++) {
      if (i === k) continue;
      const factor = rows[i]![k]! / rows[k]![k]!;
      rows[i] = rows[i]!.map((entry, j) => entry - factor * rows[k]![j]!);
    }
  }
  return rows.map((row, k) => row[n]! / row[k]!);
}
