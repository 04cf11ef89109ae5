import { goalOf } from "../assessment/internal";
import { DividingNetworkError } from "../errors";
import type { Finding } from "./check-drivers";
import type { JsonPath } from "./json-text";
import type { ProjectGoal } from "./project-goal";
import type { Project } from "./project-types";

/** What the schema can't see of a goal, a family of no such order say: it is refused where it is read, in the words of `goal`. */
export function checkGoal({ goal, drivers }: Project): Finding[] {
  if (goal === undefined) return [];
  try {
    goalOf(goal);
    return strangers(
      goal,
      drivers.map(({ name }) => name),
    );
  } catch (error) {
    if (!(error instanceof DividingNetworkError)) throw error;
    const [, argument = "", rest = error.message] = /^goal: "?([A-Za-z]+(?:\[\d+\])?(?:\.[A-Za-z]+)*)"?:? (.*)$/s.exec(error.message) ?? [];
    return [{ path: ["goal", ...keysOf(argument)], message: rest, hint: error.hint }];
  }
}

/** Names in a goal that no driver of the project bears. */
function strangers({ drivers = {}, intentions = [] }: ProjectGoal, known: readonly string[]): Finding[] {
  const hint = `The drivers are ${known.map((each) => JSON.stringify(each)).join(", ")}`;
  return [
    ...Object.keys(drivers)
      .filter((name) => !known.includes(name))
      .map((name) => ({ path: ["goal", "drivers", name], message: "must be a driver of the project", hint })),
    ...intentions.flatMap((intention, index) =>
      (["lower", "upper"] as const)
        .filter((end) => !known.includes(intention[end]))
        .map((end) => ({
          path: ["goal", "intentions", index, end],
          message: `must be a driver of the project, got ${JSON.stringify(intention[end])}`,
          hint,
        })),
    ),
  ];
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
