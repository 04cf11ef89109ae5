import { DividingNetworkError } from "../errors";
import { compile, sensitivities, type Entries, type SourceImpedance } from "../network";
import type { ComplexArrays } from "../numeric";
import type { FitSolver } from "./fit-solver";
import { lawSlope, withValues, type MovingValue } from "./moving-value";

/** The same as `fitSolver` by the general solver, for networks that it doesn't know; some ten times slower. */
export function fitSweeps(
  caller: string,
  network: Entries,
  variables: readonly MovingValue[],
  watched: readonly string[],
  frequencies: Float64Array,
  sourceImpedance: SourceImpedance | undefined,
): FitSolver {
  if (typeof sourceImpedance === "object" && "frequencies" in sourceImpedance)
    throw new DividingNetworkError(
      "unsupported",
      `${caller}: a network with coupled coils or an ideal transformer behind a measured source impedance can't be differentiated`,
      "State the source's resistance and inductance",
    );
  const source =
    sourceImpedance === undefined
      ? {}
      : { sourceImpedance: typeof sourceImpedance === "object" ? sourceImpedance : { resistance: sourceImpedance } };
  const n = frequencies.length;
  const complexes = () => ({ re: new Float64Array(n), im: new Float64Array(n) });
  const solved = { voltages: watched.map(complexes), impedance: complexes() };
  const moved = variables.map(() => ({ voltages: watched.map(complexes), impedance: complexes() }));
  const copy = (to: ComplexArrays, from: ComplexArrays) => {
    to.re.set(from.re);
    to.im.set(from.im);
  };
  const vary = variables.map(({ part }) => part);
  const slopesOf = (entries: Entries) =>
    sensitivities<Entries>(entries, frequencies, { outputs: watched, vary, parasitics: true, ...source });
  // What can't be differentiated is refused here, and not taken for a step too far.
  slopesOf(
    withValues(
      network,
      variables,
      variables.map(({ drawn, scale }) => scale.of(drawn)),
    ),
  );
  const attempt = (run: () => void): boolean => {
    try {
      run();
      return true;
    } catch (error) {
      if (error instanceof DividingNetworkError) return false;
      throw error;
    }
  };
  // Slopes are asked for where the network was solved last.
  let last: Float64Array | undefined;
  const solve = (x: Float64Array): void => {
    if (last?.every((value, index) => value === x[index]) === true) return;
    last = undefined;
    const sweep = compile<Entries>(withValues(network, variables, x)).sweep(frequencies, source);
    watched.forEach((part, w) => copy(solved.voltages[w]!, sweep.voltage(part)));
    copy(solved.impedance, sweep.impedance);
    last = x.slice();
  };
  return {
    solved,
    moved,
    solve: (x) => attempt(() => solve(x)),
    differentiate: (x) =>
      attempt(() => {
        solve(x);
        const own = slopesOf(withValues(network, variables, x));
        const movable = new Set(own.variables.map(({ part, parameter }) => `${part} ${parameter}`));
        variables.forEach(({ part, parameter, scale, law }, v) => {
          const value = scale.value(x[v]!);
          const along = (to: ComplexArrays, of: (name: string) => ComplexArrays) => {
            to.re.fill(0);
            to.im.fill(0);
            for (const [name, times] of [
              [parameter, scale.slope(x[v]!)],
              ...(law === undefined ? [] : [["dcr", lawSlope(law, value)] as const]),
            ] as const) {
              if (!movable.has(`${part} ${name}`)) continue;
              const slope = of(name);
              for (let f = 0; f < n; f++) [to.re[f], to.im[f]] = [to.re[f]! + times * slope.re[f]!, to.im[f]! + times * slope.im[f]!];
            }
          };
          watched.forEach((output, w) => along(moved[v]!.voltages[w]!, (name) => own.voltage(output, part, name)));
          along(moved[v]!.impedance, (name) => own.impedance(part, name));
        });
      }),
  };
}
