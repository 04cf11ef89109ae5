/** Numbers in [0, 1) with 53 random bits each. */
export type Random = () => number;

/**
 * The generator xoshiro128** of Blackman and Vigna (2018; public domain), cited from memory: period 2¹²⁸ − 1. The four words of
 * its state are made of one seed by the finalizer of MurmurHash3 (Appleby, public domain) over a Weyl sequence, so that
 * neighbouring seeds give unrelated numbers.
 */
export function seededRandom(seed: number): Random {
  const next = xoshiro128(Uint32Array.from({ length: 4 }, (_, index) => mix(seed + Math.imul(index + 1, 0x9e3779b9))));
  return () => ((next() >>> 5) * 67_108_864 + (next() >>> 6)) / 9_007_199_254_740_992;
}

/** The generator itself: 32-bit words from a state of four, not all 0, which it changes. */
export function xoshiro128(state: Uint32Array): () => number {
  return () => {
    const second = state[1]!;
    const word = Math.imul(rotate(Math.imul(second, 5), 7), 9) >>> 0;
    state[2]! ^= state[0]!;
    state[3]! ^= second;
    state[1]! ^= state[2]!;
    state[0]! ^= state[3]!;
    state[2]! ^= second << 9;
    state[3] = rotate(state[3]!, 11);
    return word;
  };
}

function rotate(word: number, bits: number): number {
  return (word << bits) | (word >>> (32 - bits));
}

function mix(word: number): number {
  let h = word | 0;
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return (h ^ (h >>> 16)) >>> 0;
}
