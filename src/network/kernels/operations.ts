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
  /** as star, and a ← a/s, b ← b/s */
  starKeep: 21,
  /** as starAdd, and a ← a/s, b ← b/s */
  starAddKeep: 22,
  /** output ← a + 0, so that no zero has a sign; d: address of the output over the whole grid */
  out: 23,
  /** output ← −a + 0 */
  outNegated: 24,
  /** d ← a·(table b over the whole grid) */
  timesTable: 25,
  /** d ← d + a·(table b) */
  timesTableAdd: 26,
  /**
   * The squared error of a power: with table a holding 1/T as its real and a weight w as its imaginary part and
   * e = |d|²/T − 1, sum b += w·e² and d ← ∂(w·e²)/∂d = 4·w·e·conj(d)/T
   */
  powerError: 27,
  /** sum d += Re a */
  sumReal: 28,
  /** With Y of the coil of values a and h = Y²·b: sum d += ω·Im h, sum d + 1 += Re h */
  slopeCoil: 29,
  /** With x = ωCR + t of the capacitor of values a and h = b/(1 + jx)²: sum d += ω·(Im h + t·Re h), d + 1 += (ωC)²·Re h, d + 2 += ωC·Re h */
  slopeCapacitor: 30,
  /** d ← a²·b */
  squareTimes: 31,
  /** output d ← a·b */
  outProduct: 32,
  /** d ← ∂Y/∂R = −1/R² of the resistance of values a */
  resistanceSlope: 33,
  /** d ← ∂Y/∂L = −jωY² of the coil of values a */
  inductanceSlope: 34,
  /** d ← ∂Y/∂R = −Y² of the coil of values a */
  dcrSlope: 35,
  /** With h = 1/(1 + jx)² of the capacitor of values a: d ← ∂Y/∂C = jω(1 + jt)·h */
  capacitanceSlope: 36,
  /** d ← ∂Y/∂R = (ωC)²·h */
  esrSlope: 37,
  /** d ← ∂Y/∂t = ωC·h */
  lossSlope: 38,
  /** With tables a, a + 1, a + 2 over the whole grid holding A, Z and P: d ← P − d·A/(1 + d·Z) */
  rankOne: 39,
} as const;

/** Frequencies worked on at once. */
export const BLOCK = 128;

/** Bytes from a block's real parts to its imaginary parts, and the size of a block. */
export const HALF_BYTES = 8 * BLOCK;
export const BLOCK_BYTES = 2 * HALF_BYTES;

/** Bytes of a sum: two numbers, one for even and one for odd points. */
export const SUM_BYTES = 16;

/** The points of a block are worked on in groups of this many: grids are padded to a multiple of it. */
export const GROUP = 4;
