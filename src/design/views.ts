import type { Views } from "../errors/internal";
import type { Redesign } from "./redesign-data";

/** A search: each network of the front on a line of its own, the drawing in words, and what is proven of it; the networks themselves print their parts. */
export const redesignViews: Views<Redesign> = {
  text: ({ front, floor, topologies, unfinished, complete }) =>
    [
      `Redesign: ${front.length} ${front.length === 1 ? "network" : "networks"} from ${topologies} topologies${complete ? "" : ", stopped before all were looked at"}${unfinished === 0 ? "" : `, ${unfinished} of them left with the best so far`}`,
      ...front
        .slice(0, 8)
        .flatMap(({ parts, lossDb, levelDb, topology, proof }) => [
          `  ${parts} parts: ${lossDb.toFixed(2)} dB from the goal, ${levelDb.toFixed(1)} dB; ${topology.length > 120 ? `${topology.slice(0, 119)}…` : topology}`,
          `    ${proof}`,
        ]),
      ...(front.length > 8 ? [`  and ${front.length - 8} more`] : []),
      ...(floor === undefined ? [] : [`  ${floor.says}`]),
      "  ask: .front[0].network, .front.at(-1).lossWithoutDb; redesignText(found) writes all",
    ].join("\n"),
};
