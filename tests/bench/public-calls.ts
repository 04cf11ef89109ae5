// Times of the public calls beside the inner runs for the same outputs, printed as JSON. Run by public.ts, bundled.
import { compile, logGrid, solve, type Entries } from "dividing-network";
import { circuitOf } from "../../src/network/circuit";
import { eliminationOf } from "../../src/network/solve/elimination";
import { wasmMachine } from "../../src/network/kernels/machine";
import { planFor } from "../../src/network/solve/plan";
import { programFor } from "../../src/network/solve/program";
import { ladderOf } from "./ladder-of";
import { asParts, grid, OUTPUTS, POINTS, tabulated } from "./three-way";
import { paired } from "./timing";

// A machine of its own: the public calls' one is left to them.
const machine = wasmMachine();

/** One run of the plan for some nodes' voltages, into arrays that are there already. */
function innerRun(entries: Entries, names: readonly string[]): () => void {
  const circuit = circuitOf(entries);
  const elimination = eliminationOf(circuit, false);
  const plan = planFor(
    elimination,
    programFor(
      elimination,
      names.map((name) => [circuit.nodeNumber.get(name)!, 0] as const),
    ),
    grid,
    [],
    machine,
  );
  const arrays = () => Array.from({ length: names.length + 1 }, () => new Float64Array(POINTS));
  const [re, im] = [arrays(), arrays()];
  const values = circuit.branches.map((branch) => branch.values);
  return () => void plan.run(values, re, im, 0);
}

function publicCall(entries: Entries, names: readonly string[]): () => void {
  const compiled = compile(entries);
  return () => {
    const sweep = compiled.sweep(grid);
    for (const name of names) sweep.voltage(name);
  };
}

const found: Record<string, number> = {};
function compare(key: string, entries: Entries, names: readonly string[], times: number): void {
  const { first, second, ratio } = paired(innerRun(entries, names), publicCall(entries, names), times);
  Object.assign(found, { [`${key}Inner`]: first, [`${key}Public`]: second, [`${key}Ratio`]: ratio });
}
compare("one", tabulated, ["w"], 1500);
compare("four", tabulated, OUTPUTS, 1500);
compare("parts", asParts, ["w"], 1000);
for (const nodes of [25, 50, 100, 200]) compare(`ladder${nodes}`, ladderOf(nodes), [`n${nodes - 1}`], 150);

const uncompiled = paired(publicCall(tabulated, ["w"]), () => void solve(tabulated, grid).voltage("w"), 150);
found["solve"] = uncompiled.second;

/** Milliseconds of a call, and the bytes of arrays that it leaves beside the answer, in MB. */
function once(key: string, call: () => unknown): void {
  globalThis.gc!();
  const before = process.memoryUsage().arrayBuffers;
  const start = performance.now();
  const kept = call();
  found[`${key}Time`] = performance.now() - start;
  found[`${key}Bytes`] = (process.memoryUsage().arrayBuffers - before) / 1e6;
  if (kept === undefined) throw new Error("nothing was computed");
}
const long = logGrid(20, 20_000, 100_000);
once("long", () => solve(ladderOf(200), long).voltage("n199"));
const longest = logGrid(20, 20_000, 10_000_000);
once("longest", () => solve(ladderOf(10), longest).voltage("n9"));
console.log(JSON.stringify(found));
