import type { Observed } from "./observed";

/** What is left of each kind of measurement by itself, root mean square in units of the repeatability. */
export interface Kinds {
  /** Of all levels together; undefined where no pressure was measured. */
  readonly levels?: number | undefined;
  /** Of all phases together; undefined where none can be compared. */
  readonly phases?: number | undefined;
  readonly impedance?: number | undefined;
  /** Of level and phase at each place, in the order of the places. */
  readonly places: readonly { readonly level: number; readonly phase?: number | undefined }[];
}

/** How many residuals there are of each kind: levels of all places first, then the phases of those that have one, then impedance. */
export function counts({ places, impedance, phaseStride }: Observed): {
  readonly levels: number;
  readonly phases: number;
  readonly ohms: number;
  readonly kinds: number;
} {
  const levels = places.reduce((total, { from, to }) => total + to - from, 0);
  const phases = places.reduce(
    (total, { from, to, complex }) => total + (complex === undefined ? 0 : Math.ceil((to - from) / phaseStride)),
    0,
  );
  const ohms = impedance === undefined ? 0 : 2 * (impedance.to - impedance.from);
  return { levels, phases, ohms, kinds: [levels, phases, ohms].filter((count) => count > 0).length };
}

/** Takes residuals apart again. */
export function kindsOf(observed: Observed, residuals: Float64Array): Kinds {
  const { levels, phases, ohms, kinds } = counts(observed);
  let at = 0;
  const next = (count: number, share: number): number | undefined => {
    let sum = 0;
    for (const end = at + count; at < end; at++) sum += residuals[at]! ** 2;
    return count === 0 ? undefined : Math.sqrt(sum * kinds * share);
  };
  const levelOf = observed.places.map(({ from, to }) => next(to - from, levels / (to - from))!);
  const phaseOf = observed.places.map(({ from, to, complex }) => {
    const count = Math.ceil((to - from) / observed.phaseStride);
    return complex === undefined ? undefined : next(count, phases / count);
  });
  at = 0;
  return {
    levels: next(levels, 1),
    phases: next(phases, 1),
    impedance: next(ohms, 1),
    places: levelOf.map((level, index) => ({ level, phase: phaseOf[index] })),
  };
}
