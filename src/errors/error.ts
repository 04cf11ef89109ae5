/** One thing that is wrong, where it is, and the way out. */
export interface Issue {
  /** Stable, kebab-case, for programs: `"no-path-to-gnd"`. */
  readonly code: string;
  /** One sentence for people: what is wrong and where. */
  readonly message: string;
  /** One sentence: what to do about it. */
  readonly hint: string;
  /** The node concerned, where there is one. */
  readonly node?: string;
  /** Designators of the parts concerned, where there are any. */
  readonly parts?: readonly string[];
  /** File name and line (counted from 1), where the trouble stands in a file. */
  readonly file?: string;
  /** Line in `file`, counted from 1. */
  readonly line?: number;
}

const brand = Symbol.for("dividing-network/error");

/**
 * The one error of this library. `code` is stable and meant for programs, `message` is for people and says what is
 * wrong, where, what was given and what is allowed; `hint` is the way out and is the last sentence of the message.
 * When several things are wrong at once, `issues` lists each.
 *
 * `instanceof` also holds between the ESM and the CommonJS copy of the library.
 *
 * @example
 * ```ts
 * import { DividingNetworkError, parseQuantity } from "dividing-network";
 *
 * try {
 *   parseQuantity("4,7 mH", "H");
 * } catch (error) {
 *   if (error instanceof DividingNetworkError) error.code; // "invalid-quantity"
 * }
 * ```
 */
export class DividingNetworkError extends Error {
  /** The same for all of the family. */
  override readonly name = "DividingNetworkError";
  /** Stable, kebab-case, for programs: `"invalid-argument"`. */
  readonly code: string;
  /** The way out, one sentence; may be empty. */
  readonly hint: string;
  /** The separate things that are wrong; empty when the message says it all. */
  readonly issues: readonly Issue[];

  /**
   * @param code stable, kebab-case
   * @param message what, where, given, allowed
   * @param hint the way out, one sentence; may be empty
   * @param issues the separate things that are wrong; empty when the message says it all
   */
  constructor(code: string, message: string, hint = "", issues: readonly Issue[] = []) {
    super(hint === "" ? message : `${message}. ${hint}`);
    this.code = code;
    this.hint = hint;
    this.issues = Object.freeze([...issues]);
    Object.defineProperty(this, brand, { value: true });
  }

  /** Holds for errors of both module formats, which have a class each. */
  static override [Symbol.hasInstance](value: unknown): boolean {
    return typeof value === "object" && value !== null && (value as Record<symbol, unknown>)[brand] === true;
  }
}

/**
 * An error that gathers issues: the message counts them and lists each with its hint.
 *
 * @param code stable code of the whole
 * @param what the sentence that stands before the list
 * @param issues at least one issue
 * @returns the error, to be thrown by the caller
 */
export function errorFromIssues(code: string, what: string, issues: readonly Issue[]): DividingNetworkError {
  const lines = issues.map((issue) => {
    const place = issue.file === undefined ? "" : `${issue.file}${issue.line === undefined ? "" : `:${issue.line}`}: `;
    return `${place}${issue.message}${issue.hint === "" ? "" : `. ${issue.hint}`}`;
  });
  const text = lines.length === 1 ? `${what}: ${lines[0]}` : `${what}: ${lines.length} things are wrong:\n- ${lines.join("\n- ")}`;
  return new DividingNetworkError(code, text, "", issues);
}
