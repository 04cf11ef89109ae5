/** Where a block and its arrays lie, counted in numbers, not bytes. */
export interface Frame {
  /** Where the block lies in arrays over the whole grid. */
  at: number;
  /** From a table's real parts to its imaginary parts. */
  stride: number;
  /** The growth of the block. */
  growth: number;
  /** ω of the grid. */
  omega: number;
}

/** An operation on so many points of a block. */
export type PlainKernel = (memory: Float64Array, points: number, frame: Frame, d: number, a: number, b: number) => void;

/**
 * Runs a program, [operation, d, a, b] from byte address `code` to `end`, on block after block. What else it is told is in bytes too: how much of
 * an array of numbers it works on, from which place in the grid, half a table, the growth at that place, ω of the grid.
 */
export type Run = (code: number, end: number, size: number, at: number, stride: number, growth: number, omega: number) => void;
