import { DividingNetworkError } from "../errors";
import type { NetworkIssue } from "./network-issue";

/** The error for an entry that can't be read at all, which carries the issue that `diagnose` reports of it. */
export function refusal(caller: string, code: string, message: string, hint: string, part?: string): DividingNetworkError {
  const issue: NetworkIssue = Object.freeze({
    code,
    message,
    hint,
    severity: "error" as const,
    ...(part === undefined ? {} : { parts: [part] }),
  });
  return new DividingNetworkError(code, `${caller}: ${message}`, hint, [issue]);
}

/** Does something with a part and puts the part's designator before whatever error comes of it. */
export function naming<R>(part: string, work: () => R): R {
  try {
    return work();
  } catch (error) {
    if (!(error instanceof DividingNetworkError)) throw error;
    const tail = error.hint === "" ? "" : `. ${error.hint}`;
    const bare = error.message.endsWith(tail) ? error.message.slice(0, error.message.length - tail.length) : error.message;
    throw refusal("network", error.code, `"${part}": ${bare}`, error.hint, part);
  }
}
