import type { Elimination } from "./elimination";
import type { OutputPair } from "./program-builder";

/** Above this ratio (3 digits) a frequency is solved again by rows. */
const LARGEST_STRAIN = 1e3;

/**
 * Where coupled coils lose digits as branches. The mutual terms are admittances across the corners of two coils and make the
 * coils' small voltages from the large ones between their nodes: at low frequencies, or of a coil that carries almost no
 * current. `pairs` are the voltages that tell; `strained` says of a point whether the loss is beyond what may be lost.
 */
export function coilStrain({ circuit, coils }: Elimination): { readonly pairs: readonly OutputPair[]; strained(values: readonly ArrayLike<number>[], outputs: { readonly re: readonly Float64Array[]; readonly im: readonly Float64Array[] }, first: number, point: number): boolean } {
  const pairs: OutputPair[] = [];
  const put = (a: number, b: number) => pairs.push([a, b]) - 1;
  const groups = coils.map(({ branches, factors }) => {
    const n = branches.length;
    const own = branches.map((branch) => put(circuit.branches[branch]!.from, circuit.branches[branch]!.to));
    const corners: { readonly i: number; readonly j: number; readonly k: number; readonly pair: number }[] = [];
    for (let i = 0; i < n; i++) {
      for (let j = i + 1; j < n; j++) {
        const k = Math.abs(factors[i * n + j]!);
        if (k > 0) corners.push({ i, j, k, pair: put(circuit.branches[branches[i]!]!.from, circuit.branches[branches[j]!]!.from) });
      }
    }
    return { branches, own, corners };
  });
  return {
    pairs,
    strained(values, { re, im }, first, point) {
      const size = (pair: number) => Math.hypot(re[first + pair]![point]!, im[first + pair]![point]!);
      return groups.some(({ branches, own, corners }) => {
        // Voltages weighed by 1/√L are those of coils of one inductance.
        const weight = (i: number) => 1 / Math.sqrt(values[branches[i]!]![0]!);
        let voltage = 0;
        for (let i = 0; i < branches.length; i++) voltage = Math.max(voltage, size(own[i]!) * weight(i));
        return corners.some(({ i, j, k, pair }) => k * size(pair) * Math.max(weight(i), weight(j)) > LARGEST_STRAIN * voltage);
      });
    },
  };
}
