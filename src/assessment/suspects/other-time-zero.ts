import { LARGEST_DELAY, type CrossProducts } from "./sign-and-delay";

/** s: how far away another time zero is looked for, 7 m of path; and the first look's step. */
const [FARTHEST, STEP] = [20e-3, 25e-6];
/** Hz: above, the first look's step turns too far. */
const COARSE_BELOW = 6000;

/**
 * By how much later (s) than predicted a place was measured, beyond the bound where that explains its phase and nothing within the bound does: such a measurement counts from another instant, and its phase says nothing
 * of the drawing. `products` are in units of the repeatability, squared; undefined where no such delay does.
 */
export function otherTimeZero(frequencies: Float64Array, products: CrossProducts, within: number): number | undefined {
  const { re, im, from, to, stride } = products;
  if (within <= 1) return undefined;
  let size = 0;
  for (let p = from; p < to; p += stride) size += Math.hypot(re[p]!, im[p]!);
  const left = (delay: number) => {
    let sum = 0;
    for (let p = from; p < to; p += stride) {
      const angle = 2 * Math.PI * frequencies[p]! * delay;
      sum += re[p]! * Math.cos(angle) - im[p]! * Math.sin(angle);
    }
    return Math.sqrt(Math.max(0, 2 * (size - Math.abs(sum))) / Math.ceil((to - from) / stride));
  };
  let end = to;
  while (end > from + 8 && frequencies[end - 1]! > COARSE_BELOW) end--;
  let [best, most] = [0, -1];
  for (let delay = -FARTHEST; delay <= FARTHEST; delay += STEP) {
    let sum = 0;
    for (let p = from; p < end; p += stride) {
      const angle = 2 * Math.PI * frequencies[p]! * delay;
      sum += re[p]! * Math.cos(angle) - im[p]! * Math.sin(angle);
    }
    if (Math.abs(sum) > most && Math.abs(delay) > LARGEST_DELAY) [most, best] = [Math.abs(sum), delay];
  }
  let [at, least] = [best, left(best)];
  for (let delay = best - STEP; delay <= best + STEP; delay += STEP / 10) {
    const now = left(delay);
    if (now < least) [at, least] = [delay, now];
  }
  // What is turned on to meet the prediction arrived late.
  return least <= 1 ? -at : undefined;
}
