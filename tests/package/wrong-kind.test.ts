// A value that the library made and looked at is trusted where its own kind is asked for, and nowhere else. Each exported function is called as
// in valid-calls.ts, with one argument, or one property of one, at a time replaced by a good value of another kind (made-values.ts).
import { describe, expect, it } from "vitest";
import { callable, DATA, faultOf, HANDED_ON, modules, OPEN, pathsOf, replaced } from "./hostile-calls";
import { MADE } from "./made-values";
import { subpaths } from "../support/program";
import { VALID } from "./valid-calls";

describe("a good value of the wrong kind", () => {
  for (const floor of subpaths.slice(1).filter((each) => Object.keys(VALID[each]!).length > 0)) {
    it.each(Object.keys(VALID[floor]!).filter((name) => !OPEN.includes(`${floor}.${name}`)))(
      `gives an answer without NaN or a DividingNetworkError: ${floor}, %s`,
      async (name) => {
        const key = `${floor}.${name}`;
        const call = callable(modules[floor]![name]);
        const base = VALID[floor]![name]!();
        const faults: string[] = [];
        for (const path of pathsOf(base).filter(([argument]) => DATA[key]?.includes(argument as number) ?? true)) {
          for (const [kind, made] of Object.entries(MADE)) {
            const fault = await faultOf(HANDED_ON.includes(key), call, replaced(base, path, made) as readonly unknown[]);
            if (fault !== undefined) faults.push(`${path.join(".")} = ${kind}: ${fault}`);
          }
        }
        for (const [kind, made] of DATA[key] === undefined ? Object.entries(MADE) : []) {
          for (const args of [[made], [made, {}], [made, made]]) {
            const fault = await faultOf(HANDED_ON.includes(key), call, args);
            if (fault !== undefined) faults.push(`${kind}, ${args.length} arguments: ${fault}`);
          }
        }
        expect(faults).toEqual([]);
      },
    );
  }
});
