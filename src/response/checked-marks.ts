import { DividingNetworkError } from "../errors";
import { checkList, checkNumber, checkOneOf, checkOptions, show } from "../errors/internal";
import type { Mark } from "./mark";

const kinds = ["no-data", "coarse", "model", "splice", "smoothed", "uncertain"] as const satisfies readonly Mark["kind"][];

/** Marks given from outside, checked and copied: known keys, known kinds, a band in ascending order, a note for people. */
export function checkedMarks(caller: string, marks: unknown): readonly Mark[] {
  if (!Array.isArray(marks)) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "marks" must be an array of { kind, from, to, note }, got ${show(marks)}`,
    );
  }
  return checkList<unknown>(caller, "marks", marks, "{ kind, from, to, note }").map((mark, index): Mark => {
    const name = `marks[${index}]`;
    if (mark === undefined || mark === null)
      throw new DividingNetworkError("invalid-argument", `${caller}: "${name}" must be { kind, from, to, note }, got ${show(mark)}`);
    const { kind, from, to, note } = checkOptions(caller, mark as { kind?: unknown; from?: unknown; to?: unknown; note?: unknown }, [
      "kind",
      "from",
      "to",
      "note",
    ]);
    checkOneOf(caller, `${name}.kind`, kind, kinds);
    if (typeof note !== "string")
      throw new DividingNetworkError("invalid-argument", `${caller}: "${name}.note" must be a sentence for people, got ${show(note)}`);
    if (from !== undefined) checkNumber(caller, `${name}.from`, from, { min: 0, unit: "Hz" });
    if (to !== undefined) checkNumber(caller, `${name}.to`, to, { min: (from as number | undefined) ?? 0, unit: "Hz" });
    return Object.freeze({ kind, ...(from === undefined ? {} : { from }), ...(to === undefined ? {} : { to }), note } as Mark);
  });
}
