import type { FrequencyResponse } from "./sampled-function";
import type { Mark } from "./mark";

/** The marks of all responses in order, each different one once. */
export function mergeMarks(responses: readonly FrequencyResponse[]): readonly Mark[] {
  const merged: Mark[] = [];
  for (const { marks = [] } of responses) {
    for (const mark of marks) if (!merged.some((known) => known === mark || sameMark(known, mark))) merged.push(mark);
  }
  return merged;
}

function sameMark(a: Mark, b: Mark): boolean {
  return a.kind === b.kind && a.from === b.from && a.to === b.to && a.note === b.note;
}
