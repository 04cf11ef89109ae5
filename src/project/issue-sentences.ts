import type * as z from "zod";
import type { Issue } from "../errors";
import { show } from "../errors/internal";
import { factHint } from "./fact-hints";
import { lineOf, type JsonPath } from "./json-text";

const kinds: Readonly<Record<string, string>> = {
  string: "a text",
  number: "a number",
  boolean: "true or false",
  object: "an object { … }",
  array: "a list [ … ]",
};

/** How many issues an error lists. */
const most = 20;

/** The zod issues of one reading as the library's own sentences, with file and line where a text is at hand. */
export function issuesInWords(
  found: readonly z.core.$ZodIssue[],
  data: unknown,
  source?: { readonly text: string; readonly file: string },
): readonly Issue[] {
  const all = found.flatMap((issue) => sentences(issue, data));
  const listed = all.slice(0, most).map(({ path, message, hint }) => {
    const parts = namesOn(path, data).slice(-1);
    const at = source === undefined ? {} : { file: source.file, line: lineOf(source.text, path) };
    return Object.freeze({ code: "invalid-project", message, hint, ...(parts.length === 0 ? {} : { parts }), ...at });
  });
  const rest = all.length - most;
  return rest > 0 ? [...listed, { code: "invalid-project", message: `and ${rest} more`, hint: "Correct these first" }] : listed;
}

interface Sentence {
  readonly path: JsonPath;
  readonly message: string;
  readonly hint: string;
}

function sentences(issue: z.core.$ZodIssue, data: unknown): Sentence[] {
  const path = issue.path.map((key) => (typeof key === "symbol" ? String(key) : key));
  if (issue.code === "unrecognized_keys") {
    return issue.keys.map((key) => ({
      path: [...path, key],
      message: `${placeOf(path, data)} has an unknown key ${show(key)}`,
      hint: `Known keys are ${issue.message}`,
    }));
  }
  const value = at(data, path);
  const [requirement, hint] = requirementOf(issue, path, value);
  const missing = value === undefined && issue.code !== "custom";
  return [{ path, message: `${placeOf(path, data)} ${missing ? "is missing" : requirement}`, hint: hint === "" ? factHint(path) : hint }];
}

/** What the value should have been, and what to do; an empty hint is filled by the table of facts. */
function requirementOf(issue: z.core.$ZodIssue, path: JsonPath, value: unknown): readonly [requirement: string, hint: string] {
  switch (issue.code) {
    case "custom": {
      const { hint = "", missing } = (issue.params ?? {}) as { readonly hint?: string; readonly missing?: boolean };
      const asked = missing === true ? factHint(path, "") : "";
      return [issue.message, asked === "" ? hint : asked];
    }
    case "invalid_type":
      return [`must be ${kinds[issue.expected] ?? issue.expected}, got ${show(value)}`, ""];
    case "invalid_value":
      return [
        `must be ${issue.values.length === 1 ? "" : "one of "}${issue.values.map((word) => show(word)).join(", ")}, got ${show(value)}`,
        "",
      ];
    case "invalid_union": {
      const options: readonly unknown[] = "options" in issue && Array.isArray(issue.options) ? issue.options : [];
      return [`must be one of ${options.map((word) => show(word)).join(", ")}, got ${show(value)}`, ""];
    }
    case "too_small":
    case "too_big": {
      const limit = issue.code === "too_small" ? issue.minimum : issue.maximum;
      const bound = issue.exact === true ? "exactly" : issue.code === "too_small" ? "at least" : "at most";
      return [
        `must have ${bound} ${limit} ${Number(limit) === 1 ? "entry" : "entries"}, got ${Array.isArray(value) ? value.length : show(value)}`,
        "",
      ];
    }
    default:
      return [`can't be what it is, got ${show(value)}`, ""];
  }
}

/** `networks.found.parts[3].capacitance of "C1"`. */
export function placeOf(path: JsonPath, data: unknown): string {
  if (path.length === 0) return "the project";
  const text = pathText(path);
  const names = namesOn(path, data);
  const last = names.at(-1);
  return last === undefined || path.at(-1) === "of" ? text : `${text} of ${show(last)}`;
}

/** A path as people write it. */
export function pathText(path: JsonPath): string {
  return path
    .map((key, index) => (typeof key === "number" ? `[${key}]` : `${index === 0 ? "" : "."}${/^\w{1,60}$/.test(key) ? key : show(key)}`))
    .join("");
}

/** The names of the things on the way to a value: a part's or driver's `name`, a measurement's `of`. */
function namesOn(path: JsonPath, data: unknown): string[] {
  const names: string[] = [];
  for (let end = 1; end <= path.length; end++) {
    const thing = at(data, path.slice(0, end));
    if (typeof thing !== "object" || thing === null || Array.isArray(thing)) continue;
    const name = own(thing, "name") ?? own(thing, "of");
    if (typeof name === "string" && name !== "" && name.length <= 60) names.push(name);
  }
  return names;
}

function at(data: unknown, path: JsonPath): unknown {
  return path.reduce<unknown>((value, key) => (typeof value === "object" && value !== null ? own(value, key) : undefined), data);
}

function own(value: object, key: string | number): unknown {
  return Object.hasOwn(value, key) ? (value as Record<string | number, unknown>)[key] : undefined;
}
