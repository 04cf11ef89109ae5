import { DividingNetworkError } from "../../errors";
import type { Evaluator } from "../../parts/internal";
import { listOf } from "../../quantity/internal";
import type { Circuit } from "../circuit";
import type { Place } from "../place";
import { isPositiveDefinite } from "../positive-definite";
import { solveDense, type DensePoint, type InjectedCurrent } from "../solve/dense";
import { eliminationOf, type Elimination } from "../solve/elimination";

/** A circuit's numbers, to be varied. */
export interface CircuitNumbers {
  readonly branches: readonly ArrayLike<number>[];
  readonly couplings: ArrayLike<number>;
  readonly transformers: ArrayLike<number>;
}

/** The numbers that a circuit has. */
export function numbersOf({ branches, couplings, transformers }: Circuit): {
  readonly branches: readonly Float64Array[];
  readonly couplings: Float64Array;
  readonly transformers: Float64Array;
} {
  return {
    branches: branches.map(({ values }) => Float64Array.from(values)),
    couplings: Float64Array.from(couplings, ({ k }) => k),
    transformers: Float64Array.from(transformers, ({ ratio }) => ratio),
  };
}

/** A circuit solved by rows with its slopes: for whatever the elimination of nodes can't carry, and far slower. */
export interface RowSolver {
  /** The structure with the couplings and ratios of these numbers. */
  with(numbers: CircuitNumbers): {
    /** Driven by 1 V at `in`. */
    forward(point: number): DensePoint;
    /** Driven by currents, with the source at 0 V. */
    adjoint(point: number, injected: readonly InjectedCurrent[]): DensePoint;
    /** Writes ∂/∂value of Σ current·voltage over the currents that drive `adjoint` to out[0], out[1]. */
    slope(place: Place, point: number, forward: DensePoint, adjoint: DensePoint, out: Float64Array): void;
  };
}

/**
 * Slopes by Tellegen's theorem: with U, I of the network driven by its source, and λ its voltages and currents driven by 1 A at an output, the output's
 * voltage changes by Σ λ_I ∂U − λ_U ∂I over the branches, where ∂U and ∂I are what the branch's own law says. After Director and Rohrer (1969), cited from memory.
 */
export function rowSolver(caller: string, circuit: Circuit, grid: Float64Array): RowSolver {
  const evaluators = new Map<number, Evaluator>();
  const evaluatorOf = (branch: number): Evaluator => {
    const known = evaluators.get(branch) ?? circuit.branches[branch]!.law.bind(grid);
    evaluators.set(branch, known);
    return known;
  };
  const plain = eliminationOf(circuit, false);
  const slope = [new Float64Array(1), new Float64Array(1)] as const;
  return {
    with({ branches: values, couplings, transformers }) {
      const same =
        circuit.couplings.every(({ k }, index) => k === couplings[index])
        && circuit.transformers.every(({ ratio }, index) => ratio === transformers[index]);
      const elimination: Elimination = same
        ? plain
        : eliminationOf(
            {
              ...circuit,
              couplings: circuit.couplings.map((each, index) => ({ ...each, k: couplings[index]! })),
              transformers: circuit.transformers.map((each, index) => ({ ...each, ratio: transformers[index]! })),
            },
            false,
          );
      const impossible = elimination.coils.find(({ factors, branches }) => !isPositiveDefinite(factors, branches.length));
      if (impossible !== undefined)
        throw new DividingNetworkError(
          "invalid-argument",
          `${caller}: the factors of ${listOf(impossible.names)} must leave each coil a flux of its own, got factors by which the coils would store negative energy`,
          "Keep them closer to 0",
        );
      return {
        forward: (point) => solveDense(elimination, grid[point]!, values, { caller }),
        adjoint: (point, injected) => solveDense(elimination, grid[point]!, values, { caller, injected }),
        slope(place, point, forward, adjoint, out) {
          const omega = 2 * Math.PI * grid[point]!;
          out.fill(0, 0, 2);
          if ("transformer" in place) {
            // U₁ = n·U₂ and I₂ = −n·I₁.
            const { secondary } = circuit.transformers[place.transformer]!;
            add(out, 1, 0, current(adjoint.transformerCurrents, place.transformer), voltage(forward, secondary));
            add(out, 1, 0, voltage(adjoint, secondary), current(forward.transformerCurrents, place.transformer));
            return;
          }
          const mutual = (first: number, second: number, size: number): void => {
            add(out, 0, omega * size, current(adjoint.currents, first), current(forward.currents, second));
            add(out, 0, omega * size, current(adjoint.currents, second), current(forward.currents, first));
          };
          if ("coupling" in place) {
            const { first, second } = circuit.couplings[place.coupling]!;
            mutual(first, second, Math.sqrt(values[first]![0]! * values[second]![0]!));
            return;
          }
          const { branch, index } = place;
          const group = elimination.coils.find(({ branches }) => branches.includes(branch));
          if (group === undefined) {
            const { from, to } = circuit.branches[branch]!;
            const ends = [from, to] as const;
            if (!forward.solved[branch]) return;
            evaluatorOf(branch).derivative(values[branch]!, 0, index, point, 1, slope[0], slope[1], 0);
            add(out, -slope[0][0]!, -slope[1][0]!, voltage(adjoint, ends), voltage(forward, ends));
            return;
          }
          // ∂U_i = jω·I_i + Σ jω·k·√(L_j/L_i)/2·I_j, and half of it at each neighbour; by its resistance I_i.
          const own = [current(adjoint.currents, branch), current(forward.currents, branch)] as const;
          add(out, index === 0 ? 0 : 1, index === 0 ? omega : 0, ...own);
          if (index !== 0) return;
          const at = group.branches.indexOf(branch);
          group.branches.forEach((other, column) => {
            if (other === branch) return;
            const k = group.factors[at * group.branches.length + column]!;
            mutual(branch, other, (k / 2) * Math.sqrt(values[other]![0]! / values[branch]![0]!));
          });
        },
      };
    },
  };
}

type Complex = readonly [re: number, im: number];

const current = (of: Float64Array, index: number): Complex => [of[2 * index]!, of[2 * index + 1]!];
const voltage = ({ voltages }: DensePoint, [from, to]: readonly [number, number]): Complex => [
  voltages[2 * from]! - voltages[2 * to]!,
  voltages[2 * from + 1]! - voltages[2 * to + 1]!,
];

/** out += (re + j·im)·a·b */
function add(out: Float64Array, re: number, im: number, a: Complex, b: Complex): void {
  const [pr, pi] = [a[0] * b[0] - a[1] * b[1], a[0] * b[1] + a[1] * b[0]];
  out[0] = out[0]! + re * pr - im * pi;
  out[1] = out[1]! + re * pi + im * pr;
}
