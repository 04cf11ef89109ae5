// The very operations of the library's program as straight-line C, compiled by gcc -O3 with and without AVX2: what a
// compiler for this one topology makes of them. Undefined where there is no gcc.
import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Entries } from "dividing-network";
import { circuitOf } from "../../src/network/circuit";
import { eliminationOf } from "../../src/network/solve/elimination";
import type { Recipe } from "../../src/network/kernels/recipe";
import type { Place, Real } from "../../src/network/kernels/symbols";
import { operations } from "../../src/network/kernels/table";
import { FILL } from "../../src/network/solve/link-program";
import { programFor } from "../../src/network/solve/program";
import { PSEUDO } from "../../src/network/solve/code-writer";
import { grid, OUTPUTS, POINTS } from "./three-way";

const SIGNS = { sum: "+", difference: "-", product: "*", quotient: "/" } as const;

/** An operation of the table as a C block on the scalars of one point; a table is counted by its branch. */
function statement({ operands, before, steps }: Recipe, numbers: Readonly<Record<"d" | "a" | "b", number>>): string {
  const names = new Map<Real, string>();
  const letters = ["d", "a", "b"] as const;
  const at = ({ base, half }: Place): string => {
    if (base === "growth") return "g";
    if (base === "omega") return "w[i]";
    const kind = operands[letters.indexOf(base)]!;
    const scalar = `${{ slot: "s", table: "T", output: "O", values: "", sum: "" }[kind]}${numbers[base]}${half === 0 ? "r" : "i"}`;
    return kind === "slot" ? scalar : `${scalar}[i]`;
  };
  const text = (value: Real): string => {
    const known = names.get(value);
    if (known !== undefined) return known;
    if (value.kind === "constant") return `${value.value}.0`;
    if (value.kind === "value") return `v${numbers[letters[operands.indexOf("values")]!]}_${value.index}`;
    if (value.kind === "load") return at(value.place);
    if (value.kind === "negative") return `-(${text(value.of)})`;
    return `(${text(value.first)}${SIGNS[value.kind]}${text(value.second)})`;
  };
  const define = (value: Real): string => {
    const made = text(value);
    names.set(value, `x${names.size}`);
    return `double ${names.get(value)}=${made};`;
  };
  const body = steps.map((step) => {
    if (step.kind === "let") return define(step.value);
    if (step.kind === "store") return `${at(step.place)}=${text(step.value)};`;
    throw new Error("a sweep makes no sums");
  });
  return `{${[...before.map(define), ...body].join("")}}`;
}

export function compiledC(entries: Entries, flags: readonly string[]): number | undefined {
  const circuit = circuitOf(entries);
  const program = programFor(
    eliminationOf(circuit, false),
    OUTPUTS.map((name) => [circuit.nodeNumber.get(name)!, 0] as const),
  );
  const recipes = operations();
  const { code } = program;
  const tables: number[] = [];
  const body = Array.from({ length: code.length / 4 }, (_, k) => {
    const [operation, d, a, b] = [code[4 * k]!, code[4 * k + 1]!, code[4 * k + 2]!, code[4 * k + 3]!];
    if (operation === PSEUDO.coils) throw new Error("no C for coupled coils");
    const filled = operation === PSEUDO.fill || operation === PSEUDO.fillAdd;
    const kernel = filled ? (circuit.branches[a]!.law.kernel ?? "table") : undefined;
    if (kernel === "table") tables.push(a);
    return statement(recipes[kernel === undefined ? operation : FILL[kernel][operation === PSEUDO.fill ? 0 : 1]]!, { d, a, b });
  });
  const slot = (k: number) => [`s${k}r`, `s${k}i`] as const;
  const number = (value: number) => value.toExponential(17);
  const list = (values: ArrayLike<number>) => `{${Array.from(values, number).join(",")}}`;
  const declared: string[] = [
    `static double w[${POINTS}]=${list(grid.map((frequency) => 2 * Math.PI * frequency))};`,
    `double G[${POINTS}];`,
  ];
  for (const branch of tables) {
    const [re, im] = [new Float64Array(POINTS), new Float64Array(POINTS)];
    circuit.branches[branch]!.law.bind(grid).admittance(circuit.branches[branch]!.values, 0, 0, POINTS, re, im, 0);
    declared.push(`static double T${branch}r[${POINTS}]=${list(re)},T${branch}i[${POINTS}]=${list(im)};`);
  }
  for (let k = 0; k < program.outputs; k++) declared.push(`double O${k}r[${POINTS}],O${k}i[${POINTS}];`);
  circuit.branches.forEach(({ values, law }, branch) => {
    if (law.kernel !== undefined) declared.push(...values.map((value, k) => `volatile double V${branch}_${k}=${number(value)};`));
  });
  const taken = circuit.branches.flatMap(({ values, law }, branch) =>
    law.kernel === undefined ? [] : values.map((_, k) => `const double v${branch}_${k}=V${branch}_${k};`),
  );
  const slots = Array.from({ length: program.slots }, (_, k) => slot(k).join(",")).join(",");
  const source = `#include <stdio.h>
#include <stdlib.h>
#include <time.h>
${declared.join("\n")}
__attribute__((noinline)) void sweep(void){${taken.join("")}
#pragma GCC ivdep
for(int i=0;i<${POINTS};i++){double ${slots},g=0;${body.join("\n")}G[i]=g;}}
static double now(void){struct timespec t;clock_gettime(CLOCK_MONOTONIC,&t);return t.tv_sec*1e3+t.tv_nsec*1e-6;}
static int order(const void*a,const void*b){double x=*(double*)a,y=*(double*)b;return x<y?-1:x>y;}
int main(void){static double t[2001];for(int k=0;k<2001;k++)sweep();for(int k=0;k<2001;k++){double s=now();sweep();t[k]=now()-s;}qsort(t,2001,sizeof*t,order);printf("%.6f %.17g\\n",t[200],O1r[10]);}
`;
  const folder = mkdtempSync(join(tmpdir(), "bench-"));
  try {
    writeFileSync(join(folder, "sweep.c"), source);
    execFileSync("gcc", ["-O3", "-ffp-contract=off", ...flags, join(folder, "sweep.c"), "-o", join(folder, "sweep")], { stdio: "ignore" });
    return Number(execFileSync(join(folder, "sweep"), { encoding: "utf8" }).split(" ")[0]);
  } catch {
    return undefined;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
