import type { DensePoint } from "../solve/dense";
import type { ComplexArrays } from "../../numeric";
import type { Derivatives, DerivativesAsked } from "./derivatives";
import { numbersOf, rowSolver } from "./row-slopes";

/** Derivatives of any network, by rows: one more solution for each output at each point. */
export function rowDerivatives({ caller, circuit, bare, grid, pairs }: DerivativesAsked): Derivatives {
  const machine = rowSolver(caller, circuit, grid).with(numbersOf(circuit));
  // The circuit with the source's branch keeps all other numbers of places.
  const unsourced = circuit === bare ? machine : rowSolver(caller, bare, grid).with(numbersOf(bare));
  const each = <T>(make: (point: number) => T) => Array.from(grid, (_, point) => make(point));
  const forward = once(() => each((point) => machine.forward(point)));
  const alone = circuit === bare ? forward : once(() => each((point) => unsourced.forward(point)));
  const adjoints = pairs.map(([from, to]) => once(() => each((point) => machine.adjoint(point, [{ from, to, re: 1, im: 0 }]))));
  const out = new Float64Array(2);
  const points = (write: (point: number) => void): ComplexArrays => {
    const [re, im] = [new Float64Array(grid.length), new Float64Array(grid.length)];
    for (let point = 0; point < grid.length; point++) {
      write(point);
      [re[point], im[point]] = [out[0]!, out[1]!];
    }
    return { re, im };
  };
  return {
    voltage: (pair) =>
      points((point) => {
        const [[from, to], { voltages }] = [pairs[pair]!, forward()[point]!];
        for (let part = 0; part < 2; part++) out[part] = voltages[2 * from + part]! - voltages[2 * to + part]!;
      }),
    slope: (pair, place) => {
      const [driven, answering] = [forward(), adjoints[pair]!()];
      return points((point) => machine.slope(place, point, driven[point]!, answering[point]!, out));
    },
    admittance: () => points((point) => out.set(alone()[point]!.admittance)),
    // ∂Z = −Z²·∂Y, and ∂Y is what the network's own solution answers, turned round.
    impedanceSlope: (place) => {
      const driven: readonly DensePoint[] = alone();
      return points((point) => {
        const [yr, yi] = driven[point]!.admittance;
        unsourced.slope(place, point, driven[point]!, driven[point]!, out);
        const size = (yr * yr + yi * yi) ** 2;
        const [zr, zi] = [(yr * yr - yi * yi) / size, (-2 * yr * yi) / size];
        out.set([zr * out[0]! - zi * out[1]!, zr * out[1]! + zi * out[0]!]);
      });
    },
  };
}

/** Computes when first asked. */
function once<T>(make: () => T): () => T {
  let made: { readonly value: T } | undefined;
  return () => (made ??= { value: make() }).value;
}
