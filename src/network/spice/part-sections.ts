import { percent } from "../../quantity/internal";
import { DividingNetworkError } from "../../errors";
import type { Capacitor, DriverImpedance, DriverModel, Inductor, Part } from "../../parts";
import { expandPart } from "../../parts/internal";
import { logGrid } from "../../numeric";
import { fitSections, type SampledImpedance, type Section } from "./sections";

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

/** A part as chains of sections between its terminals (numbered from 0), with what is to be said of it. */
export interface PartSections {
  readonly chains: readonly { readonly from: number; readonly to: number; readonly sections: readonly Section[] }[];
  readonly remarks: readonly string[];
}

/** The chains of a part that has them. */
export function partSections(
  designator: string,
  part: Exclude<Part, { kind: "transformer" | "custom" }>,
  approximation: Approximation,
): PartSections {
  const between = (sections: readonly Section[], remarks: readonly string[] = []): PartSections => ({
    chains: [{ from: 0, to: 1, sections }],
    remarks,
  });
  switch (part.kind) {
    case "resistor":
      return between([{ r: part.resistance }]);
    case "inductor":
      return between(coilSections(part));
    case "capacitor":
      return part.dissipationFactor === 0
        ? between([{ c: part.capacitance }, ...resistance(part.esr)])
        : lossyCapacitor(designator, part, approximation);
    case "l-pad": {
      const series = { from: 0, to: 1, sections: [{ r: part.series }] };
      const shunt = part.shunt === undefined ? [] : [{ from: 1, to: 2, sections: [{ r: part.shunt }] }];
      return { chains: [series, ...shunt], remarks: [`pad of ${part.attenuationDb} dB for ${part.load} ohm`] };
    }
    case "driver":
      return "model" in part ? model(designator, part.model, approximation) : measured(designator, part, approximation);
  }
}

/** A coil and its resistance. */
export function coilSections({ inductance, dcr }: Pick<Inductor, "inductance" | "dcr">): Section[] {
  return inductance === 0 ? [{ r: dcr }] : [{ l: inductance }, ...resistance(dcr)];
}

const resistance = (r: number): Section[] => (r === 0 ? [] : [{ r }]);

/** A loss that is the same share of the reactance at every frequency is no circuit's: capacitors beside resistors come near to it. */
function lossyCapacitor(designator: string, part: Capacitor, approximation: Approximation): PartSections {
  const grid = logGrid(approximation.from, approximation.to, 200);
  const alone: Capacitor = { ...part, esr: 0 };
  const { sections, error } = fitSections(impedanceOf(alone, grid), "capacitor");
  checkError(designator, "its dissipation factor", error, approximation, 'Describe the loss by an "esr"');
  return {
    chains: [{ from: 0, to: 1, sections: [...sections, ...resistance(part.esr)] }],
    remarks: [approximately(`the dissipation factor of ${part.dissipationFactor}`, error, grid)],
  };
}

function model(designator: string, driver: DriverModel, approximation: Approximation): PartSections {
  const { re, le, re2, le2, k, n, fs, qms, qes } = driver;
  const remarks: string[] = [];
  const sections: Section[] = [{ r: re }];
  if (le > 0) sections.push({ l: le });
  if (re2 > 0 && le2 > 0) sections.push({ r: re2, l: le2 });
  if (k > 0) {
    const coil = fractionalSections(designator, k, n, approximation, 'Describe the coil by "le", "re2" and "le2"');
    sections.push(...coil.sections);
    remarks.push(...coil.remarks);
  }
  if (fs > 0) {
    const [r, w] = [(re * qms) / qes, 2 * Math.PI * fs];
    sections.push({ r, l: r / (w * qms), c: qms / (r * w) });
  }
  return { chains: [{ from: 0, to: 1, sections }], remarks: ["driver, its + is the first node", ...remarks] };
}

/** A coil K(jω)ⁿ: itself an inductance where n is 1, else sections that come near. */
export function fractionalSections(
  designator: string,
  k: number,
  n: number,
  approximation: Approximation,
  other: string,
): { readonly sections: readonly Section[]; readonly remarks: readonly string[] } {
  if (n === 1) return { sections: [{ l: k }], remarks: [] };
  const grid = logGrid(approximation.from, approximation.to, 200);
  const [c, s] = [Math.cos((n * Math.PI) / 2), Math.sin((n * Math.PI) / 2)];
  const sizes = grid.map((frequency) => k * (2 * Math.PI * frequency) ** n);
  const { sections, error } = fitSections(
    { frequencies: grid, re: sizes.map((size) => size * c), im: sizes.map((size) => size * s) },
    "coil",
  );
  checkError(designator, "its coil K(jw)^n", error, approximation, other);
  return { sections, remarks: [approximately(`the coil K(jw)^n with K ${k}, n ${n}`, error, grid)] };
}

function measured(designator: string, part: Extract<DriverImpedance, { response: unknown }>, approximation: Approximation): PartSections {
  const { frequencies } = part.response;
  const [from, to] = [Math.max(approximation.from, frequencies[0]!), Math.min(approximation.to, frequencies[frequencies.length - 1]!)];
  if (!(to > from)) {
    const band = `${frequencies[0]} Hz to ${frequencies[frequencies.length - 1]} Hz`;
    throw new DividingNetworkError(
      "outside-measured-band",
      `${approximation.caller}: the impedance of "${designator}" was measured from ${band}, the netlist is for ${approximation.from} Hz to ${approximation.to} Hz`,
      "Give a band in which the driver was measured",
    );
  }
  const grid = logGrid(from, to, 240);
  const { sections, error } = fitSections(impedanceOf(part, grid), "driver");
  checkError(designator, "its measured impedance", error, approximation, "Describe the driver by its parameters");
  return {
    chains: [{ from: 0, to: 1, sections }],
    remarks: ["driver, its + is the first node", approximately("the measured impedance", error, grid)],
  };
}

/** The impedance of a part of one branch, as the solver has it. */
function impedanceOf(part: Capacitor | DriverImpedance, grid: Float64Array): SampledImpedance {
  const { law, values } = expandPart(part).branches[0]!;
  const [re, im] = [new Float64Array(grid.length), new Float64Array(grid.length)];
  law.bind(grid).admittance(values, 0, 0, grid.length, re, im, 0);
  grid.forEach((_, i) => {
    const size = re[i]! * re[i]! + im[i]! * im[i]!;
    [re[i], im[i]] = [re[i]! / size, -im[i]! / size];
  });
  return { frequencies: grid, re, im };
}

function checkError(
  designator: string,
  what: string,
  error: number,
  { caller, from, to, largestError }: Approximation,
  other: string,
): void {
  if (error <= largestError) return;
  throw new DividingNetworkError(
    "inexact-netlist",
    `${caller}: resistors, coils and capacitors come to within ${percent(error, 2)} of "${designator}", for ${what}, from ${from} Hz to ${to} Hz; "largestError" allows ${percent(largestError, 2)}`,
    `${other}, narrow the band, or allow a larger error`,
  );
}

const approximately = (what: string, error: number, grid: Float64Array): string =>
  `${what} is approximated within ${percent(error, 2)} from ${grid[0]} Hz to ${grid[grid.length - 1]} Hz`;
