/**
 * The operations of an elimination program, four 32-bit numbers each: [operation, d, a, b]. d, a and b are byte addresses
 * of blocks: BLOCK real parts, then BLOCK imaginary parts, except where the comment says otherwise. Both machines, the
 * WebAssembly kernels and the plain ones, do the same arithmetic in the same order, so that their bits agree.
 */
export const OP = {
  /** d ← 1/R; a: address of R */
  resistance: 0,
  /** d ← 1/(R + jωL); a: address of L, R */
  coil: 1,
  /** d ← jωC/(1 + jωCR + jt); a: address of C, R, t */
  capacitor: 2,
  /** d ← a table over the whole grid; a: its address */
  table: 3,
  /** the same four, added to d */
  addResistance: 4,
  addCoil: 5,
  addCapacitor: 6,
  addTable: 7,
  /** d ← a */
  move: 8,
  /** d ← −a */
  negate: 9,
  /** d ← d + a */
  add: 10,
  /** d ← d − a */
  subtract: 11,
  /** d ← a + b */
  sum: 12,
  /** d ← 1/a */
  reciprocal: 13,
  /** d ← a·b */
  multiply: 14,
  /** d ← −a·b */
  multiplyNegate: 15,
  /** d ← d + a·b */
  multiplyAdd: 16,
  /** d ← d − a·b */
  multiplySubtract: 17,
  /** d ← a·b, growth ← growth + |d|² */
  ratio: 18,
  /** A node with two neighbours at once: s = a + b; d ← (a/s)·b; growth ← growth + |a/s|² */
  star: 19,
  /** the same, d ← d + (a/s)·b */
  starAdd: 20,
  /** as star, and a ← a/s, b ← b/s; growth also + |b/s|² */
  starKeep: 21,
  /** as starAdd, and a ← a/s, b ← b/s */
  starAddKeep: 22,
  /** output ← a; d: address of the output over the whole grid */
  out: 23,
  /** output ← −a */
  outNegated: 24,
} as const;

/** Frequencies worked on at once. */
export const BLOCK = 128;

/** Bytes from a block's real parts to its imaginary parts, and the size of a block. */
export const HALF_BYTES = 8 * BLOCK;
export const BLOCK_BYTES = 2 * HALF_BYTES;

/** The points of a block are worked on in groups of this many: grids are padded to a multiple of it. */
export const GROUP = 4;
