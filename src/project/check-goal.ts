import { goalOf } from "../assessment/internal";
import { DividingNetworkError } from "../errors";
import type { Finding } from "./check-drivers";
import type { JsonPath } from "./json-text";
import type { Project } from "./project-types";

/** What the schema can't see of a goal, a family of no such order say: it is refused where it is read, in the words of `goal`. */
export function checkGoal({ goal }: Project): Finding[] {
  if (goal === undefined) return [];
  try {
    goalOf(goal);
    return [];
  } catch (error) {
    if (!(error instanceof DividingNetworkError)) throw error;
    const [, argument = "", rest = error.message] = /^goal: "?([A-Za-z]+(?:\[\d+\])?(?:\.[A-Za-z]+)*)"?:? (.*)$/s.exec(error.message) ?? [];
    return [{ path: ["goal", ...keysOf(argument)], message: rest, hint: error.hint }];
  }
}

/** `intentions[0].order` as keys. */
function keysOf(argument: string): JsonPath {
  return argument === ""
    ? []
    : argument
        .split(/[.[\]]+/)
        .filter((key) => key !== "")
        .map((key) => (/^\d+$/.test(key) ? Number(key) : key));
}
