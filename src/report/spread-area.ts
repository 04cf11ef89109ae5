import type { Spread } from "../assessment";
import type { PlotArea } from "./plot-options";

/** The band between the lowest and the highest percentile of a place: none where fewer than two were asked for. */
export function spreadArea({ frequencies, percentiles, samples }: Spread, place: Spread["bands"][number], whose = ""): readonly PlotArea[] {
  const order = Array.from(percentiles.keys()).sort((a, b) => percentiles[a]! - percentiles[b]!);
  const [first, last] = [order[0]!, order.at(-1)!];
  if (order.length < 2) return [];
  return [
    {
      label: `Spread${whose}: ${percentiles[first]!} % to ${percentiles[last]!} % of ${samples} loudspeakers`,
      frequencies,
      low: place.percentiles[first]!,
      high: place.percentiles[last]!,
      color: "sky-blue",
    },
  ];
}
