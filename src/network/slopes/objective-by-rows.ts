import { DividingNetworkError } from "../../errors";
import { checkNumber, show } from "../../errors/internal";
import { checkCount, checkSlopes } from "./check-run";
import type { SumObjective } from "./objective-data";
import { rowLoss, type RowSum } from "./row-objective";
import type { Place } from "../place";
import type { numbersOf } from "./row-slopes";
import type { Variable } from "./variable";

/** A variable with where it stands, and what it may be. */
export interface CheckedVariable extends Variable {
  readonly place: Place;
  readonly check: (value: number) => void;
}

/** The objective of a network that the elimination of nodes can't carry, or of which a coupling or an ideal transformer varies: point by point, and far slower. */
export function objectiveByRows(sum: RowSum, numbers: ReturnType<typeof numbersOf>, variables: readonly CheckedVariable[]): SumObjective {
  const places = variables.map(({ place }) => place);
  const write = (place: Place, value: number): void => {
    if ("coupling" in place) numbers.couplings[place.coupling] = value;
    else if ("transformer" in place) numbers.transformers[place.transformer] = value;
    else numbers.branches[place.branch]![place.index] = value;
  };
  const put = (values: ArrayLike<number>): void => {
    checkCount(sum.caller, values, variables.length);
    variables.forEach(({ check }, index) => check(values[index]!));
    variables.forEach(({ place }, index) => write(place, values[index]!));
  };
  return Object.freeze({
    variables: Object.freeze(variables.map(({ part, parameter, value }) => Object.freeze({ part, parameter, value }))),
    loss(values: ArrayLike<number>) {
      put(values);
      return rowLoss(sum, numbers);
    },
    lossAndSlopes(values: ArrayLike<number>, slopes: Float64Array) {
      checkSlopes(sum.caller, slopes, variables.length);
      put(values);
      return rowLoss(sum, numbers, places, slopes);
    },
    along(values: ArrayLike<number>, index: number) {
      const { place, check } = variables[checkNumber(sum.caller, "index", index, { integer: true, min: 0, max: variables.length - 1 })]!;
      put(values);
      const own = Array.from(values);
      return (value: number) => {
        check(value);
        put(own);
        write(place, value);
        return rowLoss(sum, numbers);
      };
    },
  });
}

/** Refuses what no coupling's factor and no transformer's ratio can be. */
export function checkLink(caller: string, { part, parameter }: Variable, value: number): void {
  const size = typeof value === "number" ? Math.abs(value) : NaN;
  if (parameter === "k" ? size < 1 : size >= 1e-30 && size <= 1e30) return;
  throw new DividingNetworkError(
    "invalid-argument",
    `${caller}: ${parameter} of "${part}" must be ${parameter === "k" ? "above -1 and below 1" : "a finite number other than 0"}, got ${show(value)}`,
  );
}
