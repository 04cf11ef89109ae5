import { conjugatePair } from "./prototype";

/** The roots of s² + s w/Q + w². */
export function secondOrderPoles(w: number, q: number): { readonly re: number; readonly im: number }[] {
  const half = w / (2 * q);
  // (w/2Q)² − w², whose digits the difference would lose next to Q = 1/2.
  const spread = half * half * (1 - 2 * q) * (1 + 2 * q);
  if (spread < 0) return conjugatePair(-half, Math.sqrt(-spread));
  const far = half + Math.sqrt(spread);
  return [...conjugatePair(-far, 0), ...conjugatePair((-w * w) / far, 0)];
}
