// How far a published value can be trusted. Each group of checks states one standing, so that `npx vitest run tests/published -t
// "recalled"` runs, and lists, just what rests on memory. docs/sources.md says what the words mean.
import { describe } from "vitest";

export const standings = [
  "recomputed",
  "recalled-then-recomputed",
  "seen-in-secondary-text and recomputed",
  "seen-in-secondary-text",
  "from-memory",
] as const;
export type Standing = (typeof standings)[number];

/** A group of checks whose expected values all have one standing, which stands in its title. */
export function published(standing: Standing, title: string, body: () => void): void {
  describe(`${title} [${standing}]`, body);
}
