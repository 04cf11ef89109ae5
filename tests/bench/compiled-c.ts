// The very operations of the library's program as straight-line C, compiled by gcc -O3 with and without AVX2: what a
// compiler for this one topology makes of them. Undefined where there is no gcc.
import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Entries } from "dividing-network";
import { circuitOf } from "../../src/network/circuit";
import { eliminationOf } from "../../src/network/elimination";
import { OP } from "../../src/network/kernels/operations";
import { programFor } from "../../src/network/program";
import { PSEUDO } from "../../src/network/program-builder";
import { grid, OUTPUTS, POINTS } from "./three-way";

export function compiledC(entries: Entries, flags: readonly string[]): number | undefined {
  const circuit = circuitOf(entries);
  const program = programFor(eliminationOf(circuit, false), OUTPUTS.map((name) => [circuit.nodeNumber.get(name)!, 0] as const));
  const tables: number[] = [];
  const body: string[] = [];
  const slot = (k: number) => [`s${k}r`, `s${k}i`] as const;
  const { code } = program;
  for (let at = 0; at < code.length; at += 4) {
    const [operation, d, a, b] = [code[at]!, code[at + 1]!, code[at + 2]!, code[at + 3]!];
    const [dr, di] = slot(d);
    const [ar, ai] = slot(a);
    const [br, bi] = slot(b);
    const product = (pr: string, pi: string, qr: string, qi: string) => [`${pr}*${qr}-${pi}*${qi}`, `${pr}*${qi}+${pi}*${qr}`];
    if (operation === PSEUDO.fill || operation === PSEUDO.fillAdd) {
      const { law, values } = circuit.branches[a]!;
      const add = operation === PSEUDO.fillAdd ? "+=" : "=";
      if (law.kernel === "resistance") body.push(`{${dr}${add}1.0/v${a}_0;${add === "=" ? `${di}=0;` : ""}}`);
      else if (law.kernel === "coil") body.push(`{double x=w[i]*v${a}_0,u=1.0/(v${a}_1*v${a}_1+x*x);${dr}${add}v${a}_1*u;${di}${add}-(x*u);}`);
      else if (law.kernel === "capacitor") body.push(`{double t=w[i]*v${a}_0,x=t*v${a}_1+v${a}_2,u=t/(1.0+x*x);${dr}${add}u*x;${di}${add}u;}`);
      else {
        tables.push(a);
        body.push(`{${dr}${add}T${a}r[i];${di}${add}T${a}i[i];}`);
      }
      void values;
    } else if (operation === OP.sum) body.push(`${dr}=${ar}+${br};${di}=${ai}+${bi};`);
    else if (operation === OP.add) body.push(`${dr}+=${ar};${di}+=${ai};`);
    else if (operation === OP.reciprocal) body.push(`{double u=1.0/(${ar}*${ar}+${ai}*${ai}),r=${ar}*u;${di}=-(${ai}*u);${dr}=r;}`);
    else if (operation === OP.ratio || operation === OP.multiply || operation === OP.multiplyNegate || operation === OP.multiplyAdd || operation === OP.multiplySubtract) {
      const [x, y] = product(ar, ai, br, bi);
      const sign = operation === OP.multiplyAdd ? "+=" : operation === OP.multiplySubtract ? "-=" : "=";
      const minus = operation === OP.multiplyNegate ? "-" : "";
      body.push(`{double r=${x},q=${y};${dr}${sign}${minus}r;${di}${sign}${minus}q;${operation === OP.ratio ? "g+=r*r+q*q;" : ""}}`);
    } else if (operation >= OP.star && operation <= OP.starAddKeep) {
      const add = operation === OP.starAdd || operation === OP.starAddKeep ? "+=" : "=";
      const keep = operation === OP.starKeep || operation === OP.starAddKeep;
      body.push(`{double xr=${ar}+${br},xi=${ai}+${bi},u=1.0/(xr*xr+xi*xi),sr=xr*u,si=-(xi*u),tr=${ar}*sr-${ai}*si,ti=${ar}*si+${ai}*sr,r=tr*${br}-ti*${bi},q=tr*${bi}+ti*${br};g+=tr*tr+ti*ti;` +
        (keep ? `double kr=${br}*sr-${bi}*si,ki=${br}*si+${bi}*sr;${ar}=tr;${ai}=ti;${br}=kr;${bi}=ki;` : "") + `${dr}${add}r;${di}${add}q;}`);
    } else if (operation === OP.out || operation === OP.outNegated) body.push(`O${d}r[i]=${operation === OP.out ? "" : "-"}${ar};O${d}i[i]=${operation === OP.out ? "" : "-"}${ai};`);
    else if (operation === OP.move || operation === OP.negate) body.push(`${dr}=${operation === OP.move ? "" : "-"}${ar};${di}=${operation === OP.move ? "" : "-"}${ai};`);
    else throw new Error(`no C for operation ${operation}`);
  }
  const number = (value: number) => value.toExponential(17);
  const list = (values: ArrayLike<number>) => `{${Array.from(values, number).join(",")}}`;
  const declared: string[] = [`static double w[${POINTS}]=${list(grid.map((frequency) => 2 * Math.PI * frequency))};`, `double G[${POINTS}];`];
  for (const branch of tables) {
    const [re, im] = [new Float64Array(POINTS), new Float64Array(POINTS)];
    circuit.branches[branch]!.law.bind(grid).admittance(circuit.branches[branch]!.values, 0, 0, POINTS, re, im, 0);
    declared.push(`static double T${branch}r[${POINTS}]=${list(re)},T${branch}i[${POINTS}]=${list(im)};`);
  }
  for (let k = 0; k < program.outputs; k++) declared.push(`double O${k}r[${POINTS}],O${k}i[${POINTS}];`);
  circuit.branches.forEach(({ values, law }, branch) => {
    if (law.kernel !== undefined) declared.push(...values.map((value, k) => `volatile double V${branch}_${k}=${number(value)};`));
  });
  const taken = circuit.branches.flatMap(({ values, law }, branch) => (law.kernel === undefined ? [] : values.map((_, k) => `const double v${branch}_${k}=V${branch}_${k};`)));
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
int main(void){static double t[2001];for(int k=0;k<2001;k++)sweep();for(int k=0;k<2001;k++){double s=now();sweep();t[k]=now()-s;}qsort(t,2001,sizeof*t,order);printf("%.6f %.17g\\n",t[1000],O1r[10]);}
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
