import { DividingNetworkError } from "../../errors";
import { logGrid } from "../../numeric";
import type { CircuitPiece } from "../../parts/internal";
import { percent } from "../../quantity/internal";
import { fitSections } from "./fit-sections";
import type { SampledImpedance, Section } from "./section";

/** What limits the approximations of laws that no finite circuit has. */
export interface Approximation {
  /** The name of the public function, for messages. */
  readonly caller: string;
  /** Hz. */
  readonly from: number;
  /** Hz. */
  readonly to: number;
  /** Relative, dimensionless. */
  readonly largestError: number;
}

/** Sections and chains side by side, in series. */
export type Chain = readonly (Section | { readonly beside: readonly Chain[] })[];

/** The pieces of a law with sections for what no finite circuit has, and what is to be said of these. */
export function lawSections(
  designator: string,
  pieces: readonly CircuitPiece[],
  approximation: Approximation,
): { readonly chain: Chain; readonly remarks: readonly string[] } {
  const remarks: string[] = [];
  const chainOf = (of: readonly CircuitPiece[]): Chain =>
    of.flatMap((piece): Chain => {
      if ("beside" in piece) return [{ beside: piece.beside.map(chainOf) }];
      if (!("near" in piece)) return [piece];
      const { sections, remark } = approximated(designator, piece, approximation);
      remarks.push(remark);
      return sections;
    });
  return { chain: chainOf(pieces), remarks };
}

function approximated(
  designator: string,
  piece: Extract<CircuitPiece, { near: unknown }>,
  { caller, from, to, largestError }: Approximation,
): { readonly sections: readonly Section[]; readonly remark: string } {
  const [low, high] = piece.band ?? [from, to];
  const [lowest, highest] = [Math.max(from, low), Math.min(to, high)];
  if (!(highest > lowest)) {
    throw new DividingNetworkError(
      "outside-measured-band",
      `${caller}: the impedance of "${designator}" was measured from ${low} Hz to ${high} Hz, the netlist is for ${from} Hz to ${to} Hz`,
      "Give a band in which the driver was measured",
    );
  }
  const asked = impedanceOf(piece, logGrid(lowest, highest, piece.near === "driver" ? 240 : 200));
  const { sections, error } = fitSections(asked, piece.near);
  if (!(error <= largestError)) {
    throw new DividingNetworkError(
      "inexact-netlist",
      `${caller}: resistors, coils and capacitors come to within ${percent(error, 2)} of "${designator}", for ${piece.what}, from ${from} Hz to ${to} Hz; "largestError" allows ${percent(largestError, 2)}`,
      `${piece.otherwise}, narrow the band, or allow a larger error`,
    );
  }
  return { sections, remark: `${piece.what} is approximated within ${percent(error, 2)} from ${lowest} Hz to ${highest} Hz` };
}

/** The impedance of a law, as the solver has it. */
function impedanceOf({ law, values }: Extract<CircuitPiece, { near: unknown }>, frequencies: Float64Array): SampledImpedance {
  const count = frequencies.length;
  const [re, im] = [new Float64Array(count), new Float64Array(count)];
  law.bind(frequencies).admittance(values, 0, 0, count, re, im, 0);
  for (let i = 0; i < count; i++) {
    const size = re[i]! * re[i]! + im[i]! * im[i]!;
    [re[i], im[i]] = [re[i]! / size, -im[i]! / size];
  }
  return { frequencies, re, im };
}
