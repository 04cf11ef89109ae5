import type { Group } from "./driver-groups";
import type { BranchTopology, Pad } from "./topologies";

/** All ways to feed one group: orders one to three, or those asked for, with and without a Zobel network below and a pad above. */
export function waysOf({ role, below, above }: Group, zobels: boolean, asked?: readonly number[]): readonly BranchTopology[] {
  const ways: BranchTopology[] = [];
  // A midrange has both filters, of orders one and two: tables of a third order on both sides would not fit.
  const both = below !== undefined && above !== undefined;
  const orders =
    asked === undefined ? (both ? [1, 2] : [1, 2, 3]) : [1, 2, 3, 4].filter((order) => asked.includes(order) && (!both || order <= 2));
  const highs = below === undefined ? [0] : orders;
  const lows = above === undefined ? [0] : orders;
  for (const highPass of highs)
    for (const lowPass of lows)
      for (const flat of zobels && below === undefined ? [false, true] : [false]) {
        for (const pad of (below === undefined
          ? ["none"]
          : above !== undefined
            ? ["none", "series"]
            : ["none", "series", "divider"]) as readonly Pad[])
          ways.push({ role, highPass, lowPass, zobel: flat, pad });
      }
  return ways;
}
