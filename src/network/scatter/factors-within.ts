import { DividingNetworkError } from "../../errors";
import { listOf } from "../../quantity/internal";
import type { Circuit } from "../circuit";
import { coilGroups, type CoilGroup } from "../coupled-coils";
import type { Place } from "../place";
import { isPositiveDefinite } from "../positive-definite";

/** A number of the circuit, ± relative. */
interface ScatteringNumber {
  readonly place: Place;
  readonly nominal: number;
  readonly relative: number;
}

/** Coils with scattering factors up to which every combination of ends is looked at. */
const MOST_COILS = 14;

/**
 * Refuses tolerances by which coupled coils could store negative energy.
 *
 * With factors A and their tolerances D ≥ 0, xᵀ(A + E)x ≥ xᵀAx − |x|ᵀD|x| = xᵀ(A − SDS)x for every |E| ≤ D, S the signs of x on the diagonal: what holds for all signs holds for all factors.
 */
export function checkFactorsWithin(caller: string, circuit: Circuit, variables: readonly ScatteringNumber[]): void {
  const reach = new Map<number, number>();
  for (const { place, nominal, relative } of variables) if ("coupling" in place) reach.set(place.coupling, Math.abs(nominal) * relative);
  if (reach.size === 0) return;
  for (const group of coilGroups(circuit)) {
    const n = group.branches.length;
    const names = new Set<string>();
    const radius = new Float64Array(n * n);
    for (const [number, size] of reach) {
      const { name, first, second } = circuit.couplings[number]!;
      const [i, j] = [group.branches.indexOf(first), group.branches.indexOf(second)];
      if (i < 0) continue;
      radius[i * n + j] = radius[j * n + i] = size;
      names.add(name);
    }
    if (names.size === 0) continue;
    for (const worst of worstFactors(group, radius)) {
      if (!isPositiveDefinite(worst, n))
        throw new DividingNetworkError(
          "invalid-argument",
          `${caller}: the tolerances of ${listOf([...names])} must leave each coil a flux of its own, got tolerances within which the coils would store negative energy`,
          "Give smaller ones: a coupling's tolerance is relative to its factor",
        );
    }
  }
}

/** The factors that are worst for one choice of signs each; of many coils one matrix that is worse than all of these. */
function* worstFactors({ branches, factors }: CoilGroup, radius: Float64Array): Iterable<Float64Array> {
  const n = branches.length;
  const moving = branches.map((_, i) => i).filter((i) => radius.subarray(i * n, (i + 1) * n).some((size) => size > 0));
  if (moving.length > MOST_COILS) {
    const worst = factors.slice();
    for (let i = 0; i < n; i++) worst[i * n + i] = 1 - radius.subarray(i * n, (i + 1) * n).reduce((sum, size) => sum + size, 0);
    yield worst;
    return;
  }
  // Turning all signs changes nothing: the first one stays.
  for (let turned = 0; turned < 2 ** (moving.length - 1); turned++) {
    const sign = new Int8Array(n).fill(1);
    moving.slice(1).forEach((i, bit) => (sign[i] = (turned >> bit) & 1 ? -1 : 1));
    yield factors.map((factor, at) => factor - sign[Math.floor(at / n)]! * sign[at % n]! * radius[at]!);
  }
}
