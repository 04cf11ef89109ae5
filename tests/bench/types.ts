// What the types cost: networks written out in code, checked by the compiler. Type instantiations are a count, the same on
// every machine; times are those of checking alone, parsing and binding left out.
import ts from "typescript";
import { compileSnippets } from "../types/snippets";

const imports =
  'import { join, network, fragment, solve } from "dividing-network/network";\nimport { capacitor, inductor, resistor } from "dividing-network/parts";\nimport { zobel } from "dividing-network/alignments";\ndeclare const grid: Float64Array;\n';

/** A ladder of so many parts between one node and another. */
function rows(count: number, from = "in", tag = ""): string {
  return Array.from({ length: count }, (_, k) => {
    const node = (at: number): string => (at === 0 ? from : `n${tag}${at}`);
    const section = k >> 1;
    return k % 2 === 0
      ? `  L${tag}${section}: [inductor("1 mH"), "${node(section)}", "${node(section + 1)}"],`
      : `  C${tag}${section}: [capacitor("1 µF"), "${node(section + 1)}", "gnd"],`;
  }).join("\n");
}

const cases: Readonly<Record<string, string>> = {
  "a few parts": `const n = network({\n${rows(2)}\nD: [resistor(6), "n1", "gnd"],\n});\nconst a = fragment({\n${rows(2, "n1", "b")}\n});\nsolve(join(n, a), grid).voltage("D");\nzobel({ re: 6, le: "0.5 mH" }).branch({ from: "n1", to: "gnd" });`,
  "one network of 400 parts, solved, 3 names asked for": `const n = network({\n${rows(400)}\n});\nconst s = solve(n, grid);\ns.voltage("L7");\ns.voltage("n9");\ns.current("C3");`,
  "two fragments of 200 parts joined": `const a = fragment({\n${rows(200)}\n});\nconst b = fragment({\n${rows(200, "in", "b")}\n});\nconst s = solve(network(join(a, b)), grid);\ns.voltage("Lb7");\ns.current("C3");`,
  "a network of 400 parts joined with 10 Zobel branches": `const a = network({\n${rows(400)}\n});\n${Array.from({ length: 10 }, (_, k) => `const z${k} = zobel({ re: 6, le: "0.5 mH" }).branch({ from: "n${k + 1}", to: "gnd", prefix: "Z${k}" });\nconst j${k} = join(${k === 0 ? "a" : `j${k - 1}`}, z${k});`).join("\n")}\nconst s = solve(j9, grid);\ns.voltage("L7");\ns.current("C3");`,
};

export async function bench(): Promise<{ readonly name: string; readonly lines: readonly string[] }> {
  const lines = ["| program | type instantiations | types | check, ms |", "| --- | --: | --: | --: |"];
  let idle = { instantiations: 0, types: 0 };
  for (const [name, code] of Object.entries(cases)) {
    const { program, messages, checkTime } = compileSnippets({ bench: imports + code });
    if (messages["bench"]!.length > 0) throw new Error(`${name}: ${messages["bench"]!.join("\n")}`);
    const found = { instantiations: program.getInstantiationCount(), types: program.getTypeCount() };
    lines.push(`| ${name} | ${found.instantiations - idle.instantiations} | ${found.types - idle.types} | ${checkTime.toFixed(0)} |`);
    if (idle.types === 0) idle = found;
  }
  return Promise.resolve({
    name: "Types",
    lines: [
      `TypeScript ${ts.version}. Counts below the first row are those beyond it, which stands for reading the library's own types.`,
      "",
      ...lines,
    ],
  });
}
