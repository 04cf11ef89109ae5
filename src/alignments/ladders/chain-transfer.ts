/** One reactance of a chain, for quick evaluation: `loss` in Ω, `tan` is tan δ of a capacitor. */
export interface ChainReactance {
  readonly placement: "series" | "shunt";
  readonly kind: "inductor" | "capacitor";
  readonly value: number;
  readonly loss: number;
  readonly tan: number;
}

/**
 * Writes V(load)/V(source) of a chain of lossy reactances between a source resistance and a load (Ω), at one frequency
 * (Hz), to out[at], out[at + 1]: from 1 V at the load back to the source.
 */
export function writeChainTransfer(
  chain: readonly ChainReactance[],
  load: number,
  source: number,
  frequency: number,
  out: Float64Array,
  at: number,
): void {
  const w = 2 * Math.PI * frequency;
  let [vr, vi, ir, ii] = [1, 0, 1 / load, 0];
  for (let k = chain.length - 1; k >= 0; k--) {
    const { placement, kind, value, loss, tan } = chain[k]!;
    const x = kind === "inductor" ? w * value : -1 / (w * value);
    const r = loss - (kind === "capacitor" ? tan * x : 0);
    if (placement === "series") [vr, vi] = [vr + r * ir - x * ii, vi + r * ii + x * ir];
    else {
      const size = r * r + x * x;
      [ir, ii] = [ir + (r * vr + x * vi) / size, ii + (r * vi - x * vr) / size];
    }
  }
  [vr, vi] = [vr + source * ir, vi + source * ii];
  const size = vr * vr + vi * vi;
  out[at] = vr / size;
  out[at + 1] = -vi / size;
}
