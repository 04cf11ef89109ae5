/** Frequencies worked on at once. */
export const BLOCK = 48;

/** Bytes from a block's real parts to its imaginary parts, and the size of a block. */
export const HALF_BYTES = 8 * BLOCK;
export const BLOCK_BYTES = 2 * HALF_BYTES;

/** Bytes of a sum: two numbers, one for even and one for odd points. */
export const SUM_BYTES = 16;

/** The points of a block are worked on in groups of this many: grids are padded to a multiple of it. */
export const GROUP = 4;
