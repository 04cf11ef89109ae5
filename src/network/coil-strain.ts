import type { Elimination } from "./elimination";
import type { OutputPair } from "./program-builder";

/** Above this ratio (2 digits) a frequency is solved again by rows. */
const LARGEST_STRAIN = 100;

/** The voltages that tell how many digits coupled coils lose as branches, and the judgement of a point (Hz) from them. */
export interface CoilStrain {
  readonly pairs: readonly OutputPair[];
  strained(values: readonly ArrayLike<number>[], outputs: { readonly re: readonly Float64Array[]; readonly im: readonly Float64Array[] }, first: number, point: number, frequency: number): boolean;
}

/**
 * Coupled coils lose digits as branches in two ways. The mutual terms are admittances across the corners of two coils and make
 * the coils' small voltages from the large ones between their nodes: at low frequencies, or of a coil that carries almost no
 * current. And a coil's current is Y·V summed over the coils, which cancels where nearly all its voltage is induced.
 */
export function coilStrain({ circuit, coils }: Elimination): CoilStrain {
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
    strained(values, { re, im }, first, point, frequency) {
      const size = (pair: number) => Math.hypot(re[first + pair]![point]!, im[first + pair]![point]!);
      const current = Math.hypot(re[0]![point]!, im[0]![point]!);
      return groups.some(({ branches, own, corners }) => {
        const [inductance, dcr] = [(i: number) => values[branches[i]!]![0]!, (i: number) => values[branches[i]!]![1]!];
        const omega = 2 * Math.PI * frequency;
        const impedance = (i: number) => Math.hypot(dcr(i), omega * inductance(i));
        const direct = own.map((pair, i) => size(pair) / impedance(i));
        if (direct.some((part) => part > LARGEST_STRAIN * current)) return true;
        return corners.some(({ i, j, k, pair }) => {
          // What a coil's current consists of, and the mutual term as it is summed: from one corner to the other.
          const mutual = (k * omega * Math.sqrt(inductance(i) * inductance(j))) / impedance(i) / impedance(j);
          const least = Math.min(direct[i]! + mutual * size(own[j]!), direct[j]! + mutual * size(own[i]!));
          return mutual * size(pair) > LARGEST_STRAIN * least;
        });
      });
    },
  };
}
