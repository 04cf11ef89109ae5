import * as z from "zod";
import type { Finding } from "./check-drivers";
import { optional, plainNumber, record } from "./fields";
import type { ProjectRedesign } from "./project-redesign";
import type { Project } from "./project-types";

/** What of a redesign a project states. */
export function redesignSchema(): z.ZodType<ProjectRedesign> {
  return record({
    mostPieces: optional(plainNumber({ min: 1, max: 2, integer: true }) as z.ZodType<1 | 2>),
    robust: optional(
      record({
        by: optional(z.enum(["loss", "yield"])),
        largestLossDb: optional(plainNumber({ above: 0, max: 200, unit: "dB" })),
        samples: optional(plainNumber({ min: 2, max: 4096, integer: true })),
        seed: optional(plainNumber({ min: 0, max: 2 ** 32 - 1, integer: true })),
      }),
    ),
  });
}

/** What a redesign needs of the rest of the project. */
export function checkRedesign({ redesign: { mostPieces, robust } = {}, spread, stock }: Project): readonly Finding[] {
  return [
    ...(mostPieces === 2 && stock === undefined
      ? [
          {
            path: ["redesign", "mostPieces"],
            message: "must go with a stock, whose lines stand in the place of one part",
            hint: 'Write "stock": "drawer.csv" beside it, or leave it out',
          },
        ]
      : []),
    ...(robust?.by === "yield" && (robust.largestLossDb ?? spread?.largestLossDb ?? 0) === 0
      ? [
          {
            path: ["redesign", "robust", "by"],
            message: 'must go with "largestLossDb", which says what a good loudspeaker is, got "yield" alone',
            hint: 'Write "largestLossDb": … in dB beside it, or under "spread"',
          },
        ]
      : []),
  ];
}
