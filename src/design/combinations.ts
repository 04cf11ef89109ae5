import type { Loudspeaker } from "../loudspeaker";
import { seriesDrawing } from "./series-connected";
import { isAsked } from "./topology-choice";
import type { TopologyChoice } from "./topology-choice-data";
import { drawingOf } from "./drawing";
import type { Drawing } from "./drawing-data";
import { zobelOf, type Group } from "./driver-groups";
import { keyOf, partCount, saysWay, type BranchTopology } from "./topologies";
import { waysOf } from "./usual-ways";

/** What a topology is, as plain data. */
export interface Sketch {
  /** Of each branch; empty where the drivers are connected one after the other. */
  readonly ways: readonly BranchTopology[];
  /** Where they are: elements to each driver, and whether the upper one has a resistor. */
  readonly inSeries?: { readonly order: 1 | 2; readonly padded: boolean } | undefined;
  /** dB re 20 µPa: what its networks must reach beyond the goal's limits, where a front is sought of what is louder. */
  readonly leastLevelDb?: number | undefined;
}

/** One drawing of a whole network. */
export interface Combination extends Sketch {
  readonly parts: number;
  readonly says: string;
  readonly draw: () => Drawing;
}

/** What was found for one drawing. */
export interface Tried extends Combination {
  readonly lossDb: number;
}

/** Values that are searched in one branch at most: more would have to be thinned beyond use. */
const MOST_FREE = 6;

/** All usual ways to feed all groups, from few parts to many, and both drivers of a two-way one after the other. */
export function combinationsOf(box: Loudspeaker, groups: readonly Group[], maxParts: number, asked?: TopologyChoice): Combination[] {
  const levelled = zobelOf(box, groups[0]!) !== undefined;
  const usual = groups
    .reduce<readonly (readonly BranchTopology[])[]>(
      (all, group) => all.flatMap((head) => waysOf(group, levelled, asked?.orders).map((way) => [...head, way])),
      [[]],
    )
    .map((ways) => combinationFor(box, groups, { ways }));
  const inSeries =
    groups.length !== 2
      ? []
      : (
          [
            [1, false],
            [1, true],
            [2, false],
            [2, true],
          ] as const
        ).map(([order, padded]) => combinationFor(box, groups, { ways: [], inSeries: { order, padded } }));
  return [...usual, ...inSeries].filter((one) => one.parts <= maxParts && isAsked(one, asked)).sort((a, b) => a.parts - b.parts);
}

/** The drawing of a topology. */
export function combinationFor(box: Loudspeaker, groups: readonly Group[], { ways, inSeries }: Sketch): Combination {
  if (inSeries !== undefined) {
    const { order, padded } = inSeries;
    return {
      ways,
      inSeries,
      parts: 2 * order + (padded ? 1 : 0),
      draw: () => seriesDrawing(box, groups, order, padded),
      says: `connected in series: ${order === 1 ? "a coil across the upper driver, a capacitor across the lower" : "filters of two elements"}${padded ? ", series resistor" : ""}`,
    };
  }
  return {
    ways,
    parts: ways.reduce((sum, way) => sum + partCount(way), 0),
    says: ways.map(saysWay).join("; "),
    draw: () => drawingOf(box, groups, ways),
  };
}

/** The best found with each number of parts, with one thing more or elsewhere in one branch: what wasn't looked at before. */
export function variations(
  box: Loudspeaker,
  groups: readonly Group[],
  found: readonly Tried[],
  before: readonly Combination[],
  maxParts: number,
  asked?: TopologyChoice,
): readonly Combination[] {
  const known = new Set(before.map(({ ways }) => ways.map(keyOf).join(" ")));
  const front = [...found]
    .filter(({ ways }) => ways.length > 0)
    .sort((a, b) => a.parts - b.parts || a.lossDb - b.lossDb)
    .filter((one, index, all) => all.slice(0, index).every((better) => one.lossDb < better.lossDb));
  const own: Combination[] = [];
  for (const { ways } of front) {
    ways.forEach((way, index) => {
      for (const other of changesOf(groups[index]!, way)) {
        const next = combinationFor(box, groups, { ways: ways.map((each, i) => (i === index ? other : each)) });
        const key = next.ways.map(keyOf).join(" ");
        if (next.parts > maxParts || known.has(key) || !isAsked(next, asked) || partCount(other) - (other.zobel ? 2 : 0) > MOST_FREE)
          continue;
        known.add(key);
        own.push(next);
      }
    });
  }
  return own.sort((a, b) => a.parts - b.parts);
}

function changesOf({ parts, below, above }: Group, way: BranchTopology): readonly BranchTopology[] {
  const { highPass, lowPass, pad, padFirst, bypass, trap, pair } = way;
  // A midrange has filters on both sides: a third order on one of them is as much as its table bears.
  const most = below !== undefined && above !== undefined ? 3 : 4;
  return [
    ...(highPass > 0 && highPass < most ? [{ ...way, highPass: highPass + 1 }] : []),
    ...(lowPass > 0 && lowPass < most ? [{ ...way, lowPass: lowPass + 1 }] : []),
    ...(pad !== "none" ? [{ ...way, padFirst: padFirst !== true }] : []),
    ...(bypass !== true && (lowPass > 0 || pad !== "none") ? [{ ...way, bypass: true }] : []),
    ...(trap === undefined
      ? [
          { ...way, trap: "across" as const },
          { ...way, trap: "series" as const },
        ]
      : []),
    ...(parts.length === 2 && pair === undefined && above !== undefined
      ? [
          { ...way, pair: "in series" as const },
          { ...way, pair: "rolled off" as const },
        ]
      : []),
  ];
}
