import { leastAlong, leastOverTwo, refined } from "./fit";
import type { NetworkFault } from "./faults";
import type { Found } from "./groups";

/** Where an unknown is sought: a value as a ratio, ohms added in series, ohms of what lies across. */
const RANGES = { ratio: [1 / 40, 40], ohms: [0.02, 200], across: [1e-5, 200] } as const;
/** What is left of a capacitor that dried out. */
const DRY = [0.2, 1.5] as const;

/** Whether a number that was fitted is that of the drawing: a hundredth from its value, or at the end of the range at which the ohms do nothing. */
const AS_DRAWN: Readonly<Record<keyof typeof RANGES, (x: number) => boolean>> = {
  ratio: (x) => Math.abs(Math.log(x)) < 0.01,
  ohms: (x) => x < 1.01 * RANGES.ohms[0],
  across: (x) => x > RANGES.across[1] / 1.01,
};

/** The unknowns that leave the least; near those that a coarser grid gave, where it did. */
export function fitted(
  fault: Pick<NetworkFault, "parts" | "fault" | "unknowns" | "value" | "unit" | "capacitance" | "to"> & { readonly key: string },
  run: (unknowns: readonly number[], out: Float64Array) => number,
  scratch: Float64Array,
  near?: readonly number[],
): Found {
  let unknowns: readonly number[] = [];
  if (near?.length === 2) unknowns = refined((ohms, ratio) => run([ohms, ratio], scratch), [near[0]!, near[1]!], [RANGES.ohms, DRY]);
  else if (near?.length === 1) {
    const [from, to] = RANGES[fault.unknowns[0]!];
    unknowns = [leastAlong((x) => run([x], scratch), Math.max(from, near[0]! / 1.3), Math.min(to, near[0]! * 1.3), 4, 12).at];
  } else if (fault.unknowns.length === 2) {
    const { x, y } = leastOverTwo((ohms, ratio) => run([ohms, ratio], scratch), RANGES.ohms, DRY);
    unknowns = [x, y];
  } else if (fault.unknowns.length === 1) {
    const [from, to] = RANGES[fault.unknowns[0]!];
    unknowns = [leastAlong((x) => run([x], scratch), from, to, 28).at];
  }
  const residuals = new Float64Array(scratch.length);
  const size = run(unknowns, residuals);
  const ratio = fault.unknowns[0] === "ratio" ? unknowns[0]! : Infinity;
  return {
    parts: fault.parts,
    fault: fault.fault,
    misfit: size,
    residuals,
    unknowns,
    key: fault.key,
    unchanged: fault.unknowns.length > 0 && fault.unknowns.every((kind, index) => AS_DRAWN[kind](unknowns[index]!)),
    beyondTolerance: Math.abs(Math.log(ratio)) > Math.log(1.1) && (fault.fault !== "loss" || unknowns[0]! > 0.3),
    ...(fault.capacitance === undefined ? {} : { capacitance: fault.capacitance(unknowns) }),
    ...(fault.value === undefined ? {} : { value: fault.value(unknowns), ...(fault.unit === undefined ? {} : { unit: fault.unit }) }),
    ...(fault.to === undefined ? {} : { to: fault.to }),
  };
}
