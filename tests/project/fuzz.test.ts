import { readFileSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { DividingNetworkError } from "dividing-network/errors";
import { predict } from "dividing-network/loudspeaker";
import { parseProject, writeProject, type Project } from "dividing-network/project";
import { load, projectData, projectFiles } from "../support/fixture";
import { cases } from "../support/cases";

const example = readFileSync(join(import.meta.dirname, "../../examples/desk-monitor/project.json"), "utf8");

const runs = 200;

type Container = Record<string | number, unknown>;

/** Every place in some data: what holds it, and its key. */
function places(value: unknown): (readonly [Container, string | number])[] {
  if (typeof value !== "object" || value === null) return [];
  const keys = Array.isArray(value) ? Array.from(value.keys()) : Object.keys(value);
  return keys.flatMap((key) => [[value as Container, key] as const, ...places((value as Container)[key])]);
}

const strange = fc.oneof(
  fc.anything({ withNullPrototype: false, maxDepth: 2 }),
  fc.constantFrom(
    null,
    true,
    "",
    "0",
    "in",
    "gnd",
    "__proto__",
    "constructor",
    "woofer",
    "4R7",
    "1e400 mH",
    "-1 Ω",
    "../x",
    -1,
    0,
    1e-320,
    1e308,
    [],
    {},
    [[]],
  ),
  fc.double({ noNaN: true }),
  fc.string(),
);
const mutation = fc.record({
  at: fc.nat(),
  how: fc.constantFrom("replace", "remove", "copy", "add", "swap"),
  value: strange,
  other: fc.nat(),
  key: fc.oneof(fc.string(), fc.constantFrom("__proto__", "constructor", "toString", "name", "delay", "gate")),
});
type Mutation = typeof mutation extends fc.Arbitrary<infer T> ? T : never;

function mutate(data: unknown, { at, how, value, other, key }: Mutation): void {
  const all = places(data);
  if (all.length === 0) return;
  const [holder, where] = all[at % all.length]!;
  const [donor, from] = all[other % all.length]!;
  if (how === "replace") holder[where] = value;
  else if (how === "remove") {
    if (Array.isArray(holder)) holder.splice(where as number, 1);
    else delete holder[where];
  } else if (how === "copy") holder[where] = structuredClone(donor[from]);
  else if (how === "swap") [holder[where], donor[from]] = [structuredClone(donor[from]), structuredClone(holder[where])];
  else if (!Array.isArray(holder)) Object.defineProperty(holder, key, { value, enumerable: true, configurable: true, writable: true });
}

const textOf = (data: unknown): string => {
  try {
    return JSON.stringify(data, (_key, value: unknown) => (typeof value === "bigint" ? String(value) : value)) ?? "";
  } catch {
    return "";
  }
};

function onlyOurs(step: () => Project | undefined): Project | undefined {
  try {
    return step();
  } catch (error) {
    expect(error, String(error)).toBeInstanceOf(DividingNetworkError);
    const { message, issues } = error as DividingNetworkError;
    expect(message).not.toMatch(/invalid input|unrecognized|expected \w+, received|\[object|TypeError/i);
    expect(issues.length).toBeLessThanOrEqual(21);
    return undefined;
  }
}

describe("a project file with random mistakes", () => {
  it("gives a project or the library's own error, whatever is changed in its data", () => {
    fc.assert(
      fc.property(fc.array(mutation, { minLength: 1, maxLength: 4 }), (mutations) => {
        const data: unknown = JSON.parse(example);
        for (const each of mutations) mutate(data, each);
        const text = textOf(data);
        const project = onlyOurs(() => parseProject(text));
        if (project !== undefined) expect(parseProject(writeProject(project))).toEqual(project);
        expect(({} as { polluted?: unknown }).polluted).toBeUndefined();
      }),
      { numRuns: cases(runs) },
    );
  });

  it("gives a project or the library's own error, whatever is changed in its text", () => {
    fc.assert(
      fc.property(
        fc.nat(example.length),
        fc.nat(40),
        fc.oneof(fc.string(), fc.constantFrom("{", "}", "[", "]", ",", ":", '"', "\\", "\\u12", "1e999", "-", "\u0000", "\ud800")),
        (at, length, inserted) => {
          onlyOurs(() => parseProject(example.slice(0, at) + inserted + example.slice(at + length)));
        },
      ),
      { numRuns: cases(runs) },
    );
  });

  it("gives loudspeakers that can be predicted, or the library's own error, with its files read", async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.array(mutation, { maxLength: 2 }),
        fc.constantFrom(...Object.keys(projectFiles())),
        fc.nat(200),
        fc.string({ maxLength: 6 }),
        async (mutations, file, at, inserted) => {
          const data = projectData();
          for (const each of mutations) mutate(data, each);
          const files = projectFiles();
          files[file] = files[file]!.slice(0, at) + inserted + files[file]!.slice(at);
          try {
            const { found } = await load(textOf(data), files);
            for (const { sum } of predict(found).places) expect(sum.re.every(Number.isFinite) && sum.im.every(Number.isFinite)).toBe(true);
          } catch (error) {
            expect(error, String(error)).toBeInstanceOf(DividingNetworkError);
          }
        },
      ),
      { numRuns: cases(runs / 2) },
    );
  });
});
