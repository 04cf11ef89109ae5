import { DividingNetworkError } from "../errors";
import { checkList, show } from "../errors/internal";
import type { Loudspeaker } from "../loudspeaker";
import { describe } from "../parts/internal";
import type { RobustOptions } from "./robust-data";

type Lots = RobustOptions["lots"];

/** Refuses lots that name parts of a network which is only to be designed. */
export function checkDriversAlone(caller: string, { drivers }: Loudspeaker, lots: Lots): void {
  const own = drivers.map(({ name }) => name);
  const named = checkList<readonly string[]>(caller, "robust.lots", lots ?? [], "lists of drivers").flatMap((lot, index) =>
    checkList<string>(caller, `robust.lots[${index}]`, lot, "names of drivers"),
  );
  const other = named.find((name) => !own.includes(name));
  if (other === undefined) return;
  throw new DividingNetworkError(
    "invalid-argument",
    `${caller}: "robust.lots" must name drivers (${own.join(", ")}), got ${show(other)}: parts have no names before they are designed`,
    "Name drivers alone; of the network that was found, spread and chooseValues take parts in lots",
  );
}

/** What of the lots is in a network, once candidates stand in it: a part that is left out, or a wire in its place, is in no lot. */
export function lotsIn({ network, drivers }: Loudspeaker, drawn: Loudspeaker, lots: Lots): Lots {
  const stands = (name: string): boolean =>
    drivers.some((driver) => driver.name === name)
    || (Object.hasOwn(network, name) && describe(network[name]![0]).noun === describe(drawn.network[name]![0]).noun);
  return lots?.map((lot) => lot.filter(stands));
}
