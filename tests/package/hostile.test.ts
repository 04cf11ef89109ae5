// Whatever a function is given, it answers with numbers or with a `DividingNetworkError`. Each exported function is called as in
// valid-calls.ts, with one argument, or one property of one, at a time replaced by what nobody should pass (hostile-values.ts).
import { describe, expect, it } from "vitest";
import { callable, DATA, faultOf, HANDED_ON, modules, OPEN, pathsOf, replaced } from "./hostile-calls";
import { HOSTILE } from "./hostile-values";
import { subpaths } from "../support/program";
import { VALID } from "./valid-calls";

/** What a value says now, to see whether anybody wrote to it. */
function written(value: unknown, within: readonly unknown[] = []): unknown {
  if (typeof value !== "object" || value === null)
    return typeof value === "number" && !Number.isFinite(value)
      ? String(value)
      : typeof value === "bigint" || typeof value === "symbol" || typeof value === "function"
        ? typeof value
        : value;
  if (ArrayBuffer.isView(value)) return [...(value as Uint8Array)];
  if (within.includes(value)) return "itself";
  return Object.entries(value).map(([key, each]) => [key, written(each, [...within, value])]);
}

describe("a hostile argument", () => {
  for (const floor of subpaths.slice(1).filter((each) => Object.keys(VALID[each]!).length > 0)) {
    it.each(Object.keys(VALID[floor]!).filter((name) => !OPEN.includes(`${floor}.${name}`)))(
      `gives an answer without NaN or a DividingNetworkError: ${floor}, %s`,
      async (name) => {
        const key = `${floor}.${name}`;
        const handedOn = HANDED_ON.includes(key);
        const call = callable(modules[floor]![name]);
        const make = VALID[floor]![name]!;
        expect(await faultOf(handedOn, call, make()), "the valid call").toBeUndefined();
        const [base, before] = [make(), Object.getOwnPropertyNames(Object.prototype)];
        const untouched = JSON.stringify(written(base));
        const faults: string[] = [];
        const data = DATA[key];
        const counts = data === undefined ? base.length : 0;
        for (let count = 0; count < counts; count++) {
          const fault = await faultOf(handedOn, call, base.slice(0, count));
          if (fault !== undefined) faults.push(`${count} arguments: ${fault}`);
        }
        for (const path of pathsOf(base).filter(([argument]) => data?.includes(argument as number) ?? true)) {
          for (const [kind, hostile] of Object.entries(HOSTILE)) {
            const fault = await faultOf(handedOn, call, replaced(base, path, hostile()) as readonly unknown[]);
            if (fault !== undefined) faults.push(`${path.join(".")} = ${kind}: ${fault}`);
          }
        }
        expect(faults).toEqual([]);
        expect(JSON.stringify(written(base))).toBe(untouched);
        expect(Object.getOwnPropertyNames(Object.prototype)).toEqual(before);
      },
    );
  }

  it("is tried on every function and class that is exported", () => {
    const missing = subpaths.slice(1).flatMap((floor) =>
      Object.keys(modules[floor]!)
        .filter((name) => typeof modules[floor]![name] === "function" && VALID[floor]?.[name] === undefined)
        .map((name) => `${floor}: ${name}`),
    );
    expect(missing).toEqual([]);
  });
});
