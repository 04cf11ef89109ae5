/**
 * A power of two by which values are divided before they are squared or summed, so that nothing overflows or vanishes on the way, dimensionless: 1 for
 * values of ordinary size, whose digits then stay what they were. Dividing by it and multiplying again changes no digit.
 */
export function unitScale(...parts: readonly Float64Array[]): number {
  let peak = 0;
  for (const part of parts) for (let i = 0; i < part.length; i++) peak = Math.max(peak, Math.abs(part[i]!));
  return peak === 0 || (peak > 1e-100 && peak < 1e100) ? 1 : 2 ** Math.max(-1000, Math.min(1000, Math.floor(Math.log2(peak))));
}
