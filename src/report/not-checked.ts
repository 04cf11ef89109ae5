import type { Assessment } from "../assessment";

/** What no finding and no topic looks at in this loudspeaker, said once wherever a verdict is. */
export function notChecked({ ratings }: Assessment): string {
  const { notChecked: open, level } = ratings;
  return `${level === "" ? "" : `Ratings were checked at ${level}. `}${open.length === 0 ? "" : `Not checked, so never passed: ${open.join("; ")}.`}`.trim();
}
