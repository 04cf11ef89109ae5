import { DividingNetworkError } from "../../errors";
import { show } from "../../errors/internal";
import type { BuildSheet } from "./build-sheet";

/** Refuses what isn't a build sheet. */
export function checkBuildSheet(caller: string, value: unknown): BuildSheet {
  const sheet = typeof value === "object" && value !== null ? (value as Partial<Record<keyof BuildSheet, unknown>>) : {};
  const lists = [sheet.topology, sheet.parts, sheet.joints, sheet.resistance, sheet.impedance, sheet.steps];
  if (lists.every(Array.isArray) && typeof sheet.coils === "object" && sheet.coils !== null) return value as BuildSheet;
  throw new DividingNetworkError(
    "invalid-argument",
    `${caller}: "sheet" must be what buildSheet gives, got ${show(value)}`,
    "Call buildSheet(comparison) first",
  );
}
