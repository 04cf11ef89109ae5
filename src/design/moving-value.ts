import type { Entries, Entry } from "../network";
import { inductor, type PartOrCoupling } from "../parts";
import type { Scale } from "./scale";
import type { CoilLaw } from "./series-parts";

/** A value of a part that a fit moves, on its scale. */
export interface MovingValue {
  readonly part: string;
  readonly parameter: string;
  /** As drawn, SI. */
  readonly drawn: number;
  readonly scale: Scale;
  /** Of a coil: Ω by H, where its resistance goes with it. */
  readonly law?: CoilLaw;
}

/** The network with other values, each given on its scale. */
export function withValues(network: Entries, moving: readonly MovingValue[], at: ArrayLike<number>): Entries {
  const own: Record<string, Entry> = { ...network };
  moving.forEach(({ part, parameter, scale, law }, index) => {
    const [before, ...nodes] = own[part]!;
    const value = scale.value(at[index]!);
    const made: PartOrCoupling = law === undefined ? { ...before, [parameter]: value } : inductor(value, { dcr: law(value) });
    own[part] = [made, ...nodes] as unknown as Entry;
  });
  return own;
}

/** Ω by ln H: the slope of a law by differences, since only its values are known. */
export function lawSlope(law: CoilLaw, inductance: number): number {
  const step = 1e-5;
  return (law(inductance * Math.exp(step)) - law(inductance * Math.exp(-step))) / (2 * step);
}
