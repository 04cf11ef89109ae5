import type { FrequencyResponse } from "../../response";
import type { ComplexArrays } from "../../numeric";
import type { Engine } from "./engine";
import type { SourceResponse } from "./source";

/** What lies behind a sweep: voltages and currents of branches, per volt at `in`, not of the source. */
export interface SweepBranches {
  readonly engine: Engine;
  /** The values of each branch. */
  readonly values: readonly ArrayLike<number>[];
  /** Input admittance, S. */
  readonly admittance: ComplexArrays;
  /** V(in) per volt of the source; undefined: 1. */
  readonly scale: ComplexArrays | undefined;
  readonly source: SourceResponse;
  voltage(branch: number): ComplexArrays;
  current(branch: number): ComplexArrays;
}

/** Where a sweep keeps what lies behind it: out of sight and out of copies. A WeakMap would cost as much as a small sweep. */
export const BEHIND = /* @__PURE__ */ Symbol("behind");

/** The same as functions, each of which computes once. */
export interface Behind {
  readonly admittance: () => FrequencyResponse;
  readonly impedance: () => FrequencyResponse;
  readonly sourceCurrent: () => FrequencyResponse;
  readonly everything: () => SweepBranches;
}

/** What lies behind a sweep, all of it; undefined for what `sweepOf` didn't make. For this folder's own use. */
export function branchesOf(sweep: object): SweepBranches | undefined {
  return (sweep as { readonly [BEHIND]?: Behind })[BEHIND]?.everything();
}

/** The properties of a sweep that are computed when they are read: the same functions for all sweeps, which then share one shape. */
export const COMPUTED = {
  admittance: {
    enumerable: true,
    get: function (this: { readonly [BEHIND]: Behind }) {
      return this[BEHIND].admittance();
    },
  },
  impedance: {
    enumerable: true,
    get: function (this: { readonly [BEHIND]: Behind }) {
      return this[BEHIND].impedance();
    },
  },
  sourceCurrent: {
    enumerable: true,
    get: function (this: { readonly [BEHIND]: Behind }) {
      return this[BEHIND].sourceCurrent();
    },
  },
} as const;
