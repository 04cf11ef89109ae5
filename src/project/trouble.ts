import { DividingNetworkError, type Issue } from "../errors";
import { errorFromIssues, saidBy } from "../errors/internal";
import type { PlannedFile } from "./file-plan";

const most = 20;

/** Gathers what is wrong with the files of a project, to say it all at once. */
export interface Trouble {
  readonly issues: readonly Issue[];
  /** Something that is wrong with a file. */
  add(planned: PlannedFile, code: string, message: string, hint: string): void;
  /** Runs a step that may throw the library's error, and files the error under the planned file. */
  attempt<T>(planned: PlannedFile, step: () => T, hints?: Readonly<Record<string, string>>): T | undefined;
  /** Throws when something was gathered. */
  raise(): void;
}

/** An empty list of troubles. */
export function newTrouble(caller: string): Trouble {
  const issues: Issue[] = [];
  const add = (planned: PlannedFile, code: string, message: string, hint: string, line?: number): void => {
    issues.push(
      Object.freeze({
        code,
        message: `${message} (${planned.of}, ${planned.where})`,
        hint,
        parts: [planned.of],
        file: planned.path,
        ...(line === undefined ? {} : { line }),
      }),
    );
  };
  return {
    issues,
    add,
    attempt(planned, step, hints = {}) {
      try {
        return step();
      } catch (error) {
        if (!(error instanceof DividingNetworkError)) throw error;
        const said = error.issues.length === 1 ? error.issues[0]! : saidBy(error);
        add(
          planned,
          error.code,
          said.message,
          hints[error.code] ?? (said.hint === "" ? "Correct the file, or what the project says of it" : said.hint),
          error.issues[0]?.line,
        );
        return undefined;
      }
    },
    raise() {
      if (issues.length === 0) return;
      const code = issues.every((issue) => issue.code === issues[0]!.code) ? issues[0]!.code : "invalid-measurement";
      const rest = issues.length - most;
      const more = { code, message: `and ${rest} more`, hint: "Correct these first" };
      throw errorFromIssues(code, caller, rest > 0 ? [...issues.slice(0, most), more] : issues);
    },
  };
}
