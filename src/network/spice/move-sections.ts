import { fitLeastSquares } from "../../numeric";
import { sectionsImpedance, type Section } from "./section";
import { section, type Shape, type Sized } from "./section-shape";

/** The same sections with sizes, corners and Qs where the squares are least. */
export function moved(
  found: readonly Sized[],
  omega: Float64Array,
  weights: Float64Array,
  target: Float64Array,
): { readonly found: readonly Sized[]; readonly squares: number } {
  const start = found
    .flatMap(({ shape, size }) => [size, ...("corner" in shape ? [shape.corner] : []), ...("q" in shape ? [shape.q] : [])])
    .map(Math.log);
  const read = (logarithms: ArrayLike<number>): Sized[] => {
    let at = 0;
    const next = (): number => Math.exp(logarithms[at++]!);
    return found.map(({ shape }) => {
      const size = next();
      return { size, shape: { ...shape, ...("corner" in shape ? { corner: next() } : {}), ...("q" in shape ? { q: next() } : {}) } };
    });
  };
  const add = (section: Section, factor: number, out: Float64Array): void =>
    omega.forEach((w, i) => {
      const [re, im] = sectionsImpedance([section], w);
      out[i]! += factor * re * weights[i]!;
      out[i + omega.length]! += factor * im * weights[i]!;
    });
  const residuals = (logarithms: Float64Array, out: Float64Array): void => {
    target.forEach((value, i) => (out[i] = -value));
    for (const { shape, size } of read(logarithms)) add(section(shape, size, 17), 1, out);
  };
  // A parameter moves its own section alone.
  const slopes = (logarithms: Float64Array, columns: readonly Float64Array[]): void => {
    let at = 0;
    const step = 1e-5;
    for (const { shape, size } of read(logarithms)) {
      const [larger, smaller] = [Math.exp(step), Math.exp(-step)];
      add(section(shape, size, 17), 1, columns[at++]!.fill(0));
      if (!("corner" in shape)) continue;
      const difference = (up: Shape, down: Shape): void => {
        const column = columns[at++]!.fill(0);
        add(section(up, size, 17), 1 / (2 * step), column);
        add(section(down, size, 17), -1 / (2 * step), column);
      };
      difference({ ...shape, corner: shape.corner * larger }, { ...shape, corner: shape.corner * smaller });
      if ("q" in shape) difference({ ...shape, q: shape.q * larger }, { ...shape, q: shape.q * smaller });
    }
  };
  const { parameters, squares } = fitLeastSquares(residuals, start, { count: target.length, maxIterations: 60, maxStep: 0.5, slopes });
  return { found: read(parameters), squares };
}
