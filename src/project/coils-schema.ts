import * as z from "zod";
import { checkedWinding } from "../parts/internal";
import { field, quantity, record } from "./fields";
import type { ProjectCoils } from "./project-coils";

/** Windings of the proposed network's coils and the board that they go on: what the build sheet places them by. */
export function coilsSchema(): z.ZodType<ProjectCoils> {
  return record({
    board: record({ width: quantity("m", { above: 0, max: 100 }), depth: quantity("m", { above: 0, max: 100 }) }),
    windings: z.record(
      z.string(),
      field((value) => {
        const { turns, meanRadius, length, depth } = checkedWinding("project", value as never);
        return { turns, meanRadius, length, depth };
      }, 'Write { "turns": …, "meanRadius": "… mm", "length": "… mm", "depth": "… mm" }'),
    ),
  });
}
