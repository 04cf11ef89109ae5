import type { Entries } from "../network";
import type { Part } from "../parts";
import { expandPart } from "../parts/internal";

/** What may stand at one designator of a branch. */
export interface BranchPart {
  readonly name: string;
  readonly nodes: readonly string[];
  /** One for a part that stays. */
  readonly options: readonly (Part | undefined)[];
}

/** An admittance between two of a part's nodes. */
export interface OwnBranch {
  readonly from: number;
  readonly to: number;
  /** S, re and im in turn. */
  readonly y: Float64Array;
  /** Whether it is none, but a short. */
  readonly short: boolean;
}

/** By part and option: its branches; undefined for a place that is open. */
export type OptionLaws = readonly (readonly (readonly OwnBranch[] | undefined)[])[];

/** The admittances of every option at frequencies in Hz; undefined where admittances alone don't tell what a branch does. */
export function optionLaws(parts: readonly BranchPart[], couplings: Entries, frequencies: Float64Array): OptionLaws | undefined {
  const n = frequencies.length;
  let plain = Object.keys(couplings).length === 0;
  const laws = parts.map(({ options }) =>
    options.map((part) => {
      if (part === undefined) return undefined;
      const expansion = expandPart(part);
      if (expansion.transformers !== undefined || expansion.couplings !== undefined) plain = false;
      const branches = expansion.branches.map(({ from, to, law, values }) => {
        const [re, im, y] = [new Float64Array(n), new Float64Array(n), new Float64Array(2 * n)];
        law.bind(frequencies).admittance(Float64Array.from(values), 0, 0, n, re, im, 0);
        for (let i = 0; i < n; i++) [y[2 * i], y[2 * i + 1]] = [re[i]!, im[i]!];
        return { from, to, y, short: !y.every(Number.isFinite) };
      });
      if (branches.some(({ short }) => short) && branches.length > 1) plain = false;
      return branches;
    }),
  );
  return plain ? laws : undefined;
}
