/** Entries in the upper triangle of an n×n matrix, and the place of one of them, row by row. */
export function triangle(n: number): number {
  return (n * (n + 1)) / 2;
}

export function triangleIndex(n: number, row: number, column: number): number {
  return row * n - (row * (row - 1)) / 2 + (column - row);
}
