import { checkList, checkNumber, checkOneOf, checkOptions } from "../errors/internal";
import type { BranchTopology } from "./topologies";
import type { TopologyChoice, TopologyFeature } from "./topology-choice-data";

/** A drawing, as far as it is asked for by what it has in it. */
interface Drawn {
  readonly ways: readonly BranchTopology[];
  readonly inSeries?: { readonly order: 1 | 2; readonly padded: boolean } | undefined;
}

const FEATURES = ["parallel", "in series", "zobel", "series resistor", "divider", "resistors first", "bypass", "trap", "pair"] as const;

/** Checks which topologies are asked for. */
export function checkTopologies(caller: string, given: TopologyChoice | undefined): TopologyChoice | undefined {
  if (given === undefined) return undefined;
  const { orders, without } = checkOptions(`${caller}: topologies`, given, ["orders", "without"]);
  const list = <T>(name: string, own: readonly T[] | undefined, words: string, check: (one: T, at: string) => T) =>
    own === undefined
      ? undefined
      : Object.freeze(
          checkList<T>(caller, `topologies.${name}`, own, words).map((one, index) => check(one, `topologies.${name}[${index}]`)),
        );
  return Object.freeze({
    orders: list(
      "orders",
      orders,
      "numbers from 1 to 4",
      (one, at) => checkNumber(caller, at, one, { min: 1, max: 4, integer: true }) as typeof one,
    ),
    without: list("without", without, "what drawings may have in them", (one, at) => checkOneOf(caller, at, one, FEATURES)),
  });
}

/** Whether a drawing is one of those asked for. */
export function isAsked({ ways, inSeries }: Drawn, { orders, without = [] }: TopologyChoice = {}): boolean {
  const has: readonly TopologyFeature[] = [
    inSeries === undefined ? "parallel" : "in series",
    ...(inSeries?.padded === true ? (["series resistor"] as const) : []),
    ...ways.flatMap(({ zobel, pad, padFirst, bypass, trap, pair }): readonly TopologyFeature[] => [
      ...(zobel ? (["zobel"] as const) : []),
      ...(pad === "none" ? [] : pad === "series" ? (["series resistor"] as const) : (["divider"] as const)),
      ...(padFirst === true ? (["resistors first"] as const) : []),
      ...(bypass === true ? (["bypass"] as const) : []),
      ...(trap === undefined ? [] : (["trap"] as const)),
      ...(pair === undefined ? [] : (["pair"] as const)),
    ]),
  ];
  const filters =
    inSeries === undefined ? ways.flatMap(({ highPass, lowPass }) => [highPass, lowPass].filter((order) => order > 0)) : [inSeries.order];
  return (
    has.every((feature) => !without.includes(feature))
    && (orders === undefined || filters.every((order) => (orders as readonly number[]).includes(order)))
  );
}
