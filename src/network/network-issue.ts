import type { Issue } from "../errors";

/** One thing that is wrong with a network, or suspicious. */
export interface NetworkIssue extends Issue {
  /** An error makes a solution impossible or meaningless; a warning is legal but rarely meant. */
  readonly severity: "error" | "warning";
}
