// Under a strict content-security policy `new Function` is a reported violation, even inside of a try. Reading a project must never ask for it.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { afterEach, describe, expect, it } from "vitest";
import * as z from "zod";
import { root } from "../support/program";

const original = globalThis.Function;
afterEach(() => {
  globalThis.Function = original;
});

/** Counts how often code is compiled from text while something is done. */
async function compiled(work: () => Promise<unknown>): Promise<number> {
  let count = 0;
  globalThis.Function = new Proxy(original, {
    construct(target, given: unknown[]) {
      count++;
      return Reflect.construct(target, given) as object;
    },
  });
  try {
    await work();
  } finally {
    globalThis.Function = original;
  }
  return count;
}

describe("reading a project", () => {
  it("compiles no code from text", async () => {
    const text = readFileSync(join(root, "examples/desk-monitor/project.json"), "utf8");
    expect(
      await compiled(async () => {
        const { parseProject } = await import("dividing-network/project");
        expect(parseProject(text).drivers).toHaveLength(2);
      }),
    ).toBe(0);
  });

  it("leaves the schema library's setting as it was, for others that use it", async () => {
    const { projectSchema } = await import("dividing-network/project");
    const before = z.config().jitless;
    projectSchema();
    expect(z.config().jitless).toBe(before);
  });
});
