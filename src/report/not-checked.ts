import type { Assessment } from "../assessment";

/** What no finding and no topic looks at in this loudspeaker, said once wherever a verdict is. */
export function notChecked({ ratings, limitsNotChecked }: Assessment): string {
  const { level } = ratings;
  const open = [...limitsNotChecked, ...ratings.notChecked];
  return `${level === "" ? "" : `Ratings were checked at ${level}. `}${open.length === 0 ? "" : `Not checked, so never passed: ${open.join("; ")}.`}`.trim();
}
