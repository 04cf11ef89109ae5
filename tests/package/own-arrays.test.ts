// What a function returns is its own: it doesn't change when the caller later writes to an array that it passed, a response made
// by hand included. Every public function that arrays reach is called (own-arrays.ts), the arrays are filled with other numbers
// and the lists emptied, and what the answer says then is compared with what it says when nobody wrote.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { arrayCalls } from "./own-arrays";
import { root } from "../support/program";

/** Functions whose arguments hold arrays and whose answers are numbers, words, pictures (which are text) or nothing but what was just read. */
const PLAIN = /^(number( \| undefined)?|string|boolean|void|Picture)$/;

function scribble(value: unknown): void {
  if (ArrayBuffer.isView(value)) (value as Float64Array).fill(12_345.678);
  else if (Array.isArray(value)) {
    value.forEach(scribble);
    value.length = 0;
  } else if (typeof value === "object" && value !== null) Object.values(value).forEach(scribble);
}

/** What can be seen of an answer now: plain data, without what is computed when asked. */
function seen(value: unknown): unknown {
  if (ArrayBuffer.isView(value)) return [...(value as Float64Array)];
  if (Array.isArray(value)) return value.map(seen);
  if (typeof value === "object" && value !== null) return Object.fromEntries(Object.entries(value).map(([key, each]) => [key, seen(each)]));
  return typeof value === "function" ? "a function" : value;
}

describe("an answer keeps no array of its caller's", () => {
  it.each(arrayCalls.map((call, index) => ({ ...call, title: `${call.floor}: ${call.name} (${index})` })))(
    "$title",
    ({ args, kept, run, read }) => {
      const given = kept ? args : structuredClone(args);
      const answer = run(...(given as never[])) as never;
      if (!kept) scribble(given);
      const untouched = run(...((kept ? args : structuredClone(args)) as never[])) as never;
      expect(seen(read(answer))).toEqual(seen(read(untouched)));
    },
  );
});

it("every public function that arrays reach is among them", () => {
  const sections = readFileSync(join(root, "tests/package/surface.md"), "utf8")
    .split(/^## dividing-network\//m)
    .slice(1)
    .filter((section) => section.includes("```text"));
  const lines = sections.flatMap((section) => section.split("```text\n")[1]!.split("\n```")[0]!.split("\n"));
  const types = new Map(
    lines.flatMap((line) => {
      const name = /^(?:interface|type) (\w+)/.exec(line)?.[1];
      return name === undefined ? [] : [[name, line] as const];
    }),
  );
  const reached = (text: string, before = new Set<string>()): boolean =>
    /ArrayLike<|Float64Array/.test(text)
    || (text.match(/\b[A-Z]\w+/g) ?? []).some(
      (name) => types.has(name) && !before.has(name) && reached(types.get(name)!, before.add(name)),
    );
  const functions = lines.flatMap((line) => {
    const [, name, signature] = /^function (\w+)(.*)$/.exec(line) ?? [];
    const end = signature?.lastIndexOf("): ") ?? -1;
    return name !== undefined && signature !== undefined && reached(signature.slice(0, end)) && !PLAIN.test(signature.slice(end + 3))
      ? [name]
      : [];
  });
  const called = new Set(arrayCalls.map(({ name }) => name));
  expect(functions.length).toBeGreaterThan(80);
  expect(functions.filter((name) => !called.has(name))).toEqual([]);
});
