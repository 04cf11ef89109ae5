import type { Change } from "./topic-verdict";

/** What several gains come to: the largest gain against the largest loss; what is half the other's size doesn't count beside it. */
export function changeOf(gains: readonly number[], negligible: number): Change {
  const gain = gains.reduce((most, value) => Math.max(most, value), 0);
  const loss = gains.reduce((most, value) => Math.max(most, -value), 0);
  const [up, down] = [gain > negligible, loss > negligible];
  if (up && down) return gain > 2 * loss ? "better" : loss > 2 * gain ? "worse" : "both";
  return up ? "better" : down ? "worse" : "unchanged";
}
