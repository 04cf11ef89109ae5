// Examples are promises: each compiles, runs, and gives the results that stand beside it.
import { join } from "node:path";
import ts from "typescript";
import { describe, expect, it } from "vitest";
import { collectExamples, root } from "./collect";
import type { Example } from "./collect";
import { runExample } from "./run";

const examples = collectExamples();
const load = (name: string): Promise<unknown> => import(/* @vite-ignore */ name);

describe("the examples", () => {
  it("exist", () => {
    expect(examples.filter((each) => each.file.startsWith("src/")).length).toBeGreaterThan(5);
  });

  it("compile, all together in one program", () => {
    expect(compile(examples)).toEqual([]);
  }, 180_000);

  for (const example of examples.filter((each) => each.run)) {
    it(`run and give what they state: ${example.file}:${example.line}`, async () => {
      expect(await runExample(example, load)).toEqual([]);
    });
  }
});

describe("the check of an example", () => {
  const example = (code: string): Example => ({ file: "page.md", line: 10, code, run: true });

  it("finds a wrong result, in whatever kind of statement it stands", async () => {
    expect(await runExample(example("1 + 1; // 3"), load)).toEqual(["page.md:10: got 2, stated 3"]);
    expect(await runExample(example("const a = 2\nconst b = a * 2 // 5 Ω"), load)).toEqual(["page.md:11: got 4, stated 5"]);
    expect(await runExample(example("if (true) Math.sqrt(4); // 2.1"), load)).toEqual(["page.md:10: got 2, stated 2.1"]);
    expect(await runExample(example("[1,\n  2]; // [1,\n// 3]"), load)).toEqual(["page.md:11: [1]: got 2, stated 3"]);
    expect(await runExample(example('console.log("a"); // "b"'), load)).toEqual(['page.md:10: got "a", stated "b"']);
    expect(await runExample(example("await Promise.resolve(3); // 3"), load)).toEqual([]);
    expect(await runExample(example("[1, 2].map((x) => { return x * 2; /* */ }); // [2, 4]"), load)).toEqual([]);
  });

  it("finds a statement that is never reached, an error, and a missing error", async () => {
    expect(await runExample(example("if (1 > 2) 1; // 1"), load)).toEqual(["page.md:10: never reached: 1"]);
    expect((await runExample(example("null.x;"), load))[0]).toMatch(/^page\.md:10: TypeError/);
    expect(await runExample(example("const a = 1; // throws invalid-argument"), load)).toEqual([
      "page.md:10: did not throw, stated invalid-argument",
    ]);
    const call = 'import { resistor } from "dividing-network/parts";\nconst x = resistor(NaN); // throws';
    expect(await runExample(example(`${call} invalid-argument, for it is not finite`), load)).toEqual([]);
    expect((await runExample(example(`${call} other-code`), load))[0]).toMatch(
      /^page\.md:11: threw DividingNetworkError.*stated other-code$/,
    );
  });

  it("finds an example that does not compile", () => {
    expect(compile([example("\n1 + true;\n")])).toEqual(["page.md:11: Operator '+' cannot be applied to types 'number' and 'boolean'."]);
  });
});

/** Type-checks the examples, each as a module of its own; the library's source is what they import. */
function compile(list: readonly Example[]): string[] {
  const config = ts.readConfigFile(join(root, "tsconfig.json"), ts.sys.readFile);
  const { options } = ts.parseJsonConfigFileContent(config.config, ts.sys, root);
  // As strict as a reader's own program usually is: `list[0].level` is read as it is meant.
  const compilerOptions: ts.CompilerOptions = {
    ...options,
    noUncheckedIndexedAccess: false,
    noUnusedLocals: false,
    noUnusedParameters: false,
    moduleDetection: ts.ModuleDetectionKind.Force,
  };
  const byName = new Map(list.map((each, index) => [join(root, "tests/docs", `example-${index}.ts`).replaceAll("\\", "/"), each]));
  const host = ts.createCompilerHost(compilerOptions, true);
  const { fileExists, readFile, getSourceFile } = host;
  host.fileExists = (name) => byName.has(name) || fileExists.call(host, name);
  host.readFile = (name) => byName.get(name)?.code ?? readFile.call(host, name);
  host.getSourceFile = (name, language, ...more) => {
    const example = byName.get(name);
    return example === undefined
      ? getSourceFile.call(host, name, language, ...more)
      : ts.createSourceFile(name, example.code, language, true);
  };
  const program = ts.createProgram([...byName.keys()], compilerOptions, host);
  return [...byName].flatMap(([name, example]) => {
    const file = program.getSourceFile(name)!;
    return [...program.getSyntacticDiagnostics(file), ...program.getSemanticDiagnostics(file)].map((diagnostic) => {
      const { line } = file.getLineAndCharacterOfPosition(diagnostic.start ?? 0);
      return `${example.file}:${example.line + line}: ${ts.flattenDiagnosticMessageText(diagnostic.messageText, " ")}`;
    });
  });
}
