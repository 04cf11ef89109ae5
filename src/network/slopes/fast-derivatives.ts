import { engineFor } from "../solve/engine";
import type { Elimination } from "../solve/elimination";
import { planFor } from "../solve/plan";
import { factorOf, groupOf, slopeTablesOf, slopeWriter } from "../solve/slope-tables";
import type { Derivatives, DerivativesAsked } from "./derivatives";
import { jacobianProgram } from "./jacobian-program";
import type { BranchPlace, Place } from "../place";

/** Derivatives by the elimination of nodes: all of them in one pass over the frequencies. Undefined where it met parts that resonate without loss: rows tell whether they do so behind something. */
export function fastDerivatives(
  { circuit, bare, grid, pairs }: DerivativesAsked,
  elimination: Elimination,
  places: readonly Place[],
): Derivatives | undefined {
  const n = grid.length;
  const values = circuit.branches.map((branch) => branch.values);
  // Ideal transformers are no matter of this elimination.
  const ofBranch = (place: Place): BranchPlace =>
    "coupling" in place ? factorOf(elimination, circuit.couplings[place.coupling]!) : (place as BranchPlace);
  const { program, entries } = jacobianProgram(elimination, pairs, places.map(ofBranch));
  const make = (count: number) => Array.from({ length: count }, () => new Float64Array(n));
  const [re, im] = [make(entries.length), make(entries.length)];
  const ones = { re: new Float64Array(n).fill(1), im: new Float64Array(n) };
  const doubtful = planFor(elimination, program, grid.slice(), [ones]).run(values, re, im, 0);
  if (doubtful.length > 0) return undefined;
  const engine = engineFor(circuit, () => undefined);
  let voltages: ReturnType<typeof engine.run> | undefined;
  let inner: ReturnType<typeof engine.run> | undefined;
  /** The admittance first, then the branches' voltages. */
  const atInput = () =>
    (inner ??= engineFor(bare, () => undefined).run(
      grid,
      bare.branches.map(({ from, to }) => [from, to] as const),
      values,
    ));
  return {
    voltage(pair) {
      voltages ??= engine.run(grid, pairs, values);
      return { re: voltages.re[pair + 1]!, im: voltages.im[pair + 1]! };
    },
    slope(pair, place) {
      const { branch, index } = ofBranch(place);
      const at = entries.findIndex((entry) => entry.pair === pair && entry.branch === branch && entry.index === index);
      return at < 0 ? { re: new Float64Array(n), im: new Float64Array(n) } : { re: re[at]!, im: im[at]! };
    },
    admittance: () => ({ re: atInput().re[0]!, im: atInput().im[0]! }),
    impedanceSlope(place) {
      const { branch, index } = ofBranch(place);
      // −Σ (U/Y)·(U'/Y)·∂Y' with Y the input admittance: over the branch alone, or over all pairs of the coils that are coupled.
      const [sr, si] = [new Float64Array(n), new Float64Array(n)];
      const { re: volts, im: voltsIm } = atInput();
      const tables = slopeTablesOf(elimination, branch, index);
      const slopes = tables.map(() => ({ re: new Float64Array(n), im: new Float64Array(n) }));
      slopeWriter(elimination, grid, tables)(
        values,
        (table) => slopes[table]!.re,
        (table) => slopes[table]!.im,
      );
      const group = groupOf(elimination, branch);
      tables.forEach(({ entry }, table) => {
        const [first, second] = entry === undefined ? [branch, branch] : [group!.branches[entry[0]]!, group!.branches[entry[1]]!];
        const [a, b, times] = [first + 1, second + 1, first === second ? 1 : 2];
        for (let i = 0; i < n; i++) {
          const [yr, yi] = [volts[0]![i]!, voltsIm[0]![i]!];
          const size = yr * yr + yi * yi;
          const ratio = (re: number, im: number) => [(re * yr + im * yi) / size, (im * yr - re * yi) / size] as const;
          const [[ar, ai], [br, bi]] = [ratio(volts[a]![i]!, voltsIm[a]![i]!), ratio(volts[b]![i]!, voltsIm[b]![i]!)];
          const [pr, pi] = [times * (ar * br - ai * bi), times * (ar * bi + ai * br)];
          const [dr, di] = [slopes[table]!.re[i]!, slopes[table]!.im[i]!];
          sr[i] = sr[i]! - (pr * dr - pi * di);
          si[i] = si[i]! - (pr * di + pi * dr);
        }
      });
      return { re: sr, im: si };
    },
  };
}
