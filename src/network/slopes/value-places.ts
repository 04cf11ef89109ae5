import { DividingNetworkError } from "../../errors";
import { show } from "../../errors/internal";
import type { Part } from "../../parts";
import { describe, type Law, type ValueLimit } from "../../parts/internal";
import type { Circuit } from "../circuit";
import type { Variable } from "./variable";

/** A value of a branch that varies, where it stands, and what it may be. */
export interface ValuePlace extends Variable {
  readonly branch: number;
  readonly index: number;
  readonly limit: ValueLimit;
}

/** The values of the parts in `varied`; `vary` are those that were named. */
export function valuePlaces(
  caller: string,
  { branches, parts }: Circuit,
  varied: ReadonlySet<string>,
  vary: readonly string[] | undefined,
  parasitics: boolean,
): readonly ValuePlace[] {
  return branches.flatMap(({ part, law, values }, branch) =>
    varied.has(part) && !isWire(caller, part, law, values, vary)
      ? variablesOf(parts.get(part)!.part, law, values, parasitics).map(({ parameter, index }) => ({
          part,
          parameter,
          value: values[index]!,
          branch,
          index,
          limit: law.limits[index]!,
        }))
      : [],
  );
}

/** The least and the largest number that a value may be. */
export function boundsOf({ index, limit: { range } }: Pick<ValuePlace, "index" | "limit">): readonly [least: number, most: number] {
  return [index === 0 || range.above !== undefined ? 1e-30 : 0, range.max ?? 1e30];
}

/** Refuses a value that no part can have. */
export function checkValue(place: Pick<ValuePlace, "part" | "parameter" | "index" | "limit">, value: number): void {
  const [least, most] = boundsOf(place);
  const { part, parameter, limit } = place;
  if (typeof value !== "number" || !(value >= least && value <= most))
    throw new DividingNetworkError(
      "invalid-argument",
      `sumObjective: ${parameter} of "${part}" must be above 0${limit.range.max === undefined ? "" : ` and at most ${most}`} (SI), got ${show(value)}`,
    );
}

/** Whether a part is a link of 0 Ω or a coil of 0 H, which has nothing to vary: left out, and refused where it is named. */
function isWire(
  caller: string,
  part: string,
  { parameters }: Law,
  values: readonly number[],
  vary: readonly string[] | undefined,
): boolean {
  if (values[0] !== 0) return false;
  if (vary === undefined) return true;
  throw new DividingNetworkError(
    "invalid-argument",
    `${caller}: ${parameters[0]} of "${part}" can't vary from 0`,
    `Give "${part}" a value above 0 to start from, or leave it out of "vary"`,
  );
}

/** The values of a branch that vary: the first, the others too where losses shall; of a part that is known by many values, as a driver is, all that it has. */
function variablesOf(
  part: Part,
  law: Law,
  values: readonly number[],
  parasitics: boolean,
): readonly { readonly parameter: string; readonly index: number }[] {
  const { toleranceByName: all = false } = describe(part);
  return law.parameters
    .map((parameter, index) => ({ parameter, index }))
    .filter(({ index }) => (all ? values[index] !== 0 : index === 0 || parasitics));
}
