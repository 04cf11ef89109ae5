import type { DensePoint } from "./dense";
import type { Elimination } from "./elimination";
import type { OutputPair } from "./program-values";

/** Writes the input admittance and the voltages of pairs at one point that was solved by rows, as a plan's outputs lie. */
export function storeRows(
  point: DensePoint,
  structure: Elimination,
  pairs: readonly OutputPair[],
  values: readonly ArrayLike<number>[],
  frequency: number,
  re: readonly Float64Array[],
  im: readonly Float64Array[],
  at: number,
): void {
  // As the kernels do, a zero added: no zero has a sign.
  re[0]![at] = point.admittance[0] + 0;
  im[0]![at] = point.admittance[1] + 0;
  const { voltages: v } = point;
  pairs.forEach(([a, b], index) => {
    const merged = structure.rootOf[a] === structure.rootOf[b];
    const difference = merged ? [0, 0] : [v[2 * a]! - v[2 * b]!, v[2 * a + 1]! - v[2 * b + 1]!];
    const size = Math.hypot(v[2 * a]!, v[2 * a + 1]!);
    const small = !merged && Math.hypot(difference[0]!, difference[1]!) < 1e-3 * size;
    const [vr, vi] = (small ? voltageByCurrent(point, structure, a, b, values, frequency, size) : undefined) ?? difference;
    re[index + 1]![at] = vr! + 0;
    im[index + 1]![at] = vi! + 0;
  });
}

/**
 * The small difference of two large voltages, more exactly from the current of a branch between them: of the one with the
 * least impedance, and only where the rounding of the currents weighs less there than that of the voltages.
 */
function voltageByCurrent(
  { currents, solved, admittance }: DensePoint,
  { circuit, rootOf }: Elimination,
  a: number,
  b: number,
  values: readonly ArrayLike<number>[],
  frequency: number,
  voltage: number,
): readonly number[] | undefined {
  let current = Math.hypot(admittance[0], admittance[1]);
  for (let k = 0; k < currents.length; k += 2) current = Math.max(current, Math.hypot(currents[k]!, currents[k + 1]!));
  const ratio = new Float64Array(4);
  let least = voltage / current;
  let found: readonly number[] | undefined;
  circuit.branches.forEach(({ from, to, law }, branch) => {
    const sign =
      rootOf[from] === rootOf[a] && rootOf[to] === rootOf[b] ? 1 : rootOf[from] === rootOf[b] && rootOf[to] === rootOf[a] ? -1 : 0;
    if (sign === 0 || !solved[branch] || circuit.couplings.some(({ first, second }) => first === branch || second === branch)) return;
    law.ratio(values[branch]!, 0, frequency, ratio);
    const norm = ratio[0]! ** 2 + ratio[1]! ** 2;
    const [zr, zi] = [(ratio[2]! * ratio[0]! + ratio[3]! * ratio[1]!) / norm, (ratio[3]! * ratio[0]! - ratio[2]! * ratio[1]!) / norm];
    const impedance = Math.hypot(zr, zi);
    if (!(impedance < least)) return;
    least = impedance;
    const [ir, ii] = [currents[2 * branch]!, currents[2 * branch + 1]!];
    found = [sign * (zr * ir - zi * ii), sign * (zr * ii + zi * ir)];
  });
  return found;
}
