import { checkNumber } from "../../errors/internal";
import type { Elimination } from "../solve/elimination";
import { planFor } from "../solve/plan";
import { checkCount, checkSlopes, isFiniteLoss } from "./check-run";
import type { SumObjective } from "./objective-data";
import { objectiveProgram } from "./objective-program";
import { boundsOf, checkValue, type ValuePlace } from "./value-places";
import { rankOnePlan } from "./rank-one";
import { rowLoss, type RowSum } from "./row-objective";
import type { numbersOf } from "./row-slopes";

const NONE: readonly Float64Array[] = [];

/** The objective of a network by the elimination of its nodes, all frequencies in one pass. What `rows` says is computed by rows where a resonance without loss is met. */
export function objectiveByElimination(
  elimination: Elimination,
  rows: RowSum,
  numbers: ReturnType<typeof numbersOf>,
  places: readonly ValuePlace[],
  coupled: ReadonlySet<string>,
): SumObjective {
  const { caller, circuit, grid: frequencies, pairs } = rows;
  const tables = [...rows.contributions, rows.aim];
  const flat = numbers.branches;
  /** A loss, computed by rows where the elimination of nodes met a resonance without loss. */
  const byRows = (loss: number, branches: readonly ArrayLike<number>[]): number =>
    Number.isFinite(loss) ? loss : rowLoss(rows, { ...numbers, branches });
  const plain = objectiveProgram(elimination, pairs);
  const loss = planFor(elimination, plain.program, frequencies, tables);
  let adjoint:
    | {
        readonly plan: ReturnType<typeof planFor>;
        readonly sources: readonly (ReturnType<typeof objectiveProgram>["slopes"][number] | undefined)[];
      }
    | undefined;

  const least = Float64Array.from(places, (place) => boundsOf(place)[0]);
  const most = Float64Array.from(places, (place) => boundsOf(place)[1]);
  const put = (values: ArrayLike<number>) => {
    checkCount(caller, values, places.length);
    for (let i = 0; i < places.length; i++) {
      const value = values[i]!;
      if (typeof value !== "number" || !(value >= least[i]! && value <= most[i]!)) checkValue(places[i]!, value);
      const place = places[i]!;
      flat[place.branch]![place.index] = value;
    }
  };
  return Object.freeze({
    variables: Object.freeze(places.map(({ part, parameter, value }) => Object.freeze({ part, parameter, value }))),
    loss(values: ArrayLike<number>) {
      put(values);
      loss.run(flat, NONE, NONE, 0);
      return byRows(loss.sum(0), flat);
    },
    lossAndSlopes(values: ArrayLike<number>, slopes: Float64Array) {
      checkSlopes(caller, slopes, places.length);
      put(values);
      if (adjoint === undefined) {
        const full = objectiveProgram(elimination, pairs, places);
        adjoint = {
          plan: planFor(elimination, full.program, frequencies, tables),
          sources: places.map(({ branch, index }) => full.slopes.find((source) => source.branch === branch && source.index === index)),
        };
      }
      adjoint.plan.run(flat, NONE, NONE, 0);
      for (let i = 0; i < places.length; i++) {
        const source = adjoint.sources[i];
        slopes[i] = source === undefined ? 0 : source.slope(flat[source.branch]!, adjoint.plan.sum);
      }
      const found = adjoint.plan.sum(0);
      return isFiniteLoss(found, slopes, places.length) ? found : rowLoss(rows, numbers, places, slopes);
    },
    along(values: ArrayLike<number>, index: number) {
      put(values);
      const number = checkNumber(caller, "index", index, { integer: true, min: 0, max: places.length - 1 });
      const place = places[number]!;
      const [smallest, largest] = [least[number]!, most[number]!];
      const own = circuit.branches.map((_, branch) => flat[branch]!.slice());
      if (coupled.has(place.part)) {
        // Every admittance of the group changes: no change of rank one.
        return (value: number) => {
          if (typeof value !== "number" || !(value >= smallest && value <= largest)) checkValue(place, value);
          own[place.branch]![place.index] = value;
          loss.run(own, NONE, NONE, 0);
          return byRows(loss.sum(0), own);
        };
      }
      const plan = rankOnePlan(elimination, pairs, place.branch, frequencies, tables, own);
      return (value: number) => {
        if (typeof value !== "number" || !(value >= smallest && value <= largest)) checkValue(place, value);
        own[place.branch]![place.index] = value;
        plan.run(own, NONE, NONE, 0);
        return byRows(plan.sum(0), own);
      };
    },
  });
}
