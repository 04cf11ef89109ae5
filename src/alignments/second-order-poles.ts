import { conjugatePair } from "./prototype";

/** The roots of s² + s w/Q + w². */
export function secondOrderPoles(w: number, q: number): { readonly re: number; readonly im: number }[] {
  const half = w / (2 * q);
  const spread = half * half - w * w;
  if (spread < 0) return conjugatePair(-half, Math.sqrt(-spread));
  const far = half + Math.sqrt(spread);
  return [...conjugatePair(-far, 0), ...conjugatePair((-w * w) / far, 0)];
}
