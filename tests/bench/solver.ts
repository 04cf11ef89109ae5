// The solver against its peers on one three-way network, in one run: milliseconds per sweep of 1 000 frequencies with four
// outputs, and ratios of paired timings. What must hold is printed beside what was found.
import { Worker } from "node:worker_threads";
import type { Entries } from "dividing-network";
import { circuitOf } from "../../src/network/circuit";
import { eliminationOf } from "../../src/network/solve/elimination";
import { jacobianProgram } from "../../src/network/slopes/jacobian-program";
import { plainMachine, wasmMachine, type Machine } from "../../src/network/kernels/machine";
import { objectiveProgram } from "../../src/network/slopes/objective-program";
import { planFor } from "../../src/network/solve/plan";
import { programFor } from "../../src/network/solve/program";
import { compiledC } from "./compiled-c";
import { candidates } from "./candidates";
import { ladderOf } from "./ladder-of";
import { complexObjects, denseFlat, equationsOf, mathJs, mlMatrix } from "./peers";
import { nativeSimulator, wasmSimulator } from "./simulators";
import { asParts, grid, OUTPUTS, POINTS, tabulated } from "./three-way";
import { usualTime, paired } from "./timing";

const NONE: readonly Float64Array[] = [];

/** A sweep of a network for the four outputs on one machine, and everything that its variants need. */
function setUp(entries: Entries, machine: Machine) {
  const circuit = circuitOf(entries);
  const elimination = eliminationOf(circuit, false);
  const pairs = OUTPUTS.map((name) => [circuit.nodeNumber.get(name)!, 0] as const);
  const values = circuit.branches.map((branch) => branch.values);
  const program = programFor(elimination, pairs);
  const plan = planFor(elimination, program, grid, [], machine);
  const arrays = (count: number) => Array.from({ length: count }, () => new Float64Array(POINTS));
  const [re, im] = [arrays(5), arrays(5)];
  const sweep = () => void plan.run(values, re, im, 0);
  /** What the machine was told to run for a sweep, again: without values written before and answers copied out after it. */
  const operations = () => {
    const { run } = machine;
    let told: Parameters<typeof run> | undefined;
    machine.run = (...given) => run(...(told = given));
    sweep();
    machine.run = run;
    return () => run(...told!);
  };
  const flat = { re: new Float64Array(POINTS).fill(1), im: new Float64Array(POINTS) };
  const target = { re: new Float64Array(POINTS).fill(1), im: new Float64Array(POINTS).fill(1 / POINTS) };
  const objective = objectiveProgram(
    elimination,
    pairs,
    circuit.branches.flatMap(({ law }, branch) => (law.kernel === undefined ? [] : law.parameters.map((_, index) => ({ branch, index })))),
  );
  const adjoint = planFor(elimination, objective.program, grid, [...pairs.map(() => flat), target], machine);
  const jacobian = jacobianProgram(
    elimination,
    pairs,
    circuit.branches.flatMap(({ law }, branch) => (law.kernel === undefined ? [] : [{ branch, index: 0 }])),
  );
  const slopes = planFor(elimination, jacobian.program, grid, [flat], machine);
  const [jre, jim] = [arrays(jacobian.entries.length), arrays(jacobian.entries.length)];
  return {
    circuit,
    re,
    im,
    sweep,
    operations,
    gradient: () => void adjoint.run(values, NONE, NONE, 0),
    jacobian: () => void slopes.run(values, jre, jim, 0),
  };
}

/** Small differences between the peers and the library would make the comparison worthless. */
function agree(name: string, peer: Float64Array, re: readonly Float64Array[], im: readonly Float64Array[]): void {
  for (let k = 0; k < OUTPUTS.length; k++) {
    for (let i = 0; i < POINTS; i += 37) {
      const error = Math.hypot(peer[2 * (k * POINTS + i)]! - re[k + 1]![i]!, peer[2 * (k * POINTS + i) + 1]! - im[k + 1]![i]!);
      if (!(error < 1e-9)) throw new Error(`${name} differs from the library by ${error}`);
    }
  }
}

export async function bench(): Promise<{ name: string; lines: string[] }> {
  const wasm = wasmMachine();
  if (wasm === undefined) throw new Error("WebAssembly may not be compiled here");
  const [fast, plain, parts] = [setUp(tabulated, wasm), setUp(tabulated, plainMachine()), setUp(asParts, wasm)];
  const lines: string[] = [];
  const row = (what: string, found: string, bar: string) => lines.push(`| ${what} | ${found} | ${bar} |`);
  const times = (ratio: number) => `${ratio >= 100 ? ratio.toFixed(0) : ratio.toFixed(2)}×`;
  lines.push(
    `Network: ${fast.circuit.nodes.length - 2} unknown nodes, ${fast.circuit.branches.length} branches, ${POINTS} frequencies, four outputs; with drivers as parts ${parts.circuit.nodes.length - 2} nodes, ${parts.circuit.branches.length} branches.`,
    "",
    "| what | found | bar |",
    "|---|---|---|",
  );

  const own = usualTime(fast.sweep, 1500);
  row("one sweep, WebAssembly kernels", `${own.toFixed(4)} ms`, "");
  const other = paired(plain.sweep, fast.sweep, 300);
  row("one sweep, plain kernels", `${other.first.toFixed(4)} ms`, "");
  const expanded = usualTime(parts.sweep, 300);
  row("one sweep, drivers as parts", `${expanded.toFixed(4)} ms`, "");

  const equations = equationsOf(tabulated);
  fast.sweep();
  for (const [name, make, repeats, bar, plainBar] of [
    ["dense LU on flat arrays", denseFlat, 60, 20, undefined],
    ["LU on complex.js objects", complexObjects, 12, 200, undefined],
    ["ml-matrix, real 2n×2n", mlMatrix, 8, 500, 150],
    ["mathjs, complex", mathJs, 3, 2000, undefined],
  ] as const) {
    const peer = make(equations);
    agree(name, peer(), fast.re, fast.im);
    const { first, second } = paired(peer, fast.sweep, repeats);
    row(`${name}: ${first.toFixed(2)} ms`, times(first / second), `≥ ${bar}×`);
    if (plainBar !== undefined) row(`${name}, against the plain kernels`, times(first / other.first), `≥ ${plainBar}×`);
  }
  const native = nativeSimulator(asParts);
  if (native === undefined) lines.push("| native simulator: not installed | | |");
  else {
    row(`native simulator: ${native.toFixed(2)} ms`, times(native / own), "≥ 30×");
    row("native simulator, both with drivers as parts", times(native / expanded), "≥ 12×");
    row("native simulator, against the plain kernels", times(native / other.first), "≥ 8×");
  }
  const simulated = await wasmSimulator(asParts);
  row(`simulator in WebAssembly: ${simulated.toFixed(2)} ms`, times(simulated / own), "");
  const ratios: number[] = [];
  const alone: number[] = [];
  for (const [name, flags, bar] of [
    ["scalar, no vectors", ["-fno-tree-vectorize", "-mno-sse3"], ""],
    ["SSE2", [], ""],
    ["AVX2", ["-mavx2"], "≤ 1.7×"],
  ] as const) {
    const compiled = compiledC(tabulated, flags);
    const beside = usualTime(fast.sweep, 600);
    ratios.push(compiled === undefined ? NaN : beside / compiled);
    alone.push(compiled === undefined ? NaN : usualTime(fast.operations(), 600) / compiled);
    row(
      `gcc -O3, ${name}, the same operations: ${compiled === undefined ? "no gcc" : `${compiled.toFixed(4)} ms`}`,
      compiled === undefined ? "" : `library takes ${times(beside / compiled)}`,
      bar,
    );
  }
  if (alone[2]! > 0)
    row(
      "the same C against the library's operations alone, before values are written, growth judged and answers copied out",
      `library takes ${times(alone[2]!)}`,
      "≤ 1.7×",
    );
  const fresh = usualTime(() => void setUpOnce(tabulated, wasm), 60);
  row("a new topology to its first sweep", `${fresh.toFixed(3)} ms`, native === undefined ? "" : `≤ ${(native / 4).toFixed(3)} ms`);
  const gradient = paired(fast.sweep, fast.gradient, 300);
  row("loss and slopes by all values", `${gradient.ratio.toFixed(2)} sweeps`, "≤ 2.0");
  const jacobian = paired(fast.sweep, fast.jacobian, 300);
  row("Jacobian, 4 outputs × 22 values", `${jacobian.ratio.toFixed(2)} sweeps`, "≤ 2.5");

  const { perSecond, rankOne } = candidates();
  row(
    "candidates: two-way, 6 parts, 100 frequencies, sum and squared error",
    `${Math.round(perSecond).toLocaleString("en")} a second`,
    "≥ 600,000",
  );
  row("one-part changes by rank one, against a new elimination", times(rankOne), "≥ 4×");
  row("candidates, two workers against one", times(await twoWorkers()), "≥ 1.8×");
  for (const [length, taken] of ladders(wasm))
    row(`ladder of ${length} nodes, per node and sweep`, `${((1e3 * taken) / length).toFixed(2)} µs`, "");
  const [, narrow, wide] = ratios;
  if (narrow! > 0 && wide! > 0)
    lines.push(
      "",
      `WebAssembly's vectors hold two numbers, as SSE2's do, and AVX2's four: the same C for SSE2 takes ${times(wide! / narrow!)} of that for AVX2, so that the bar of 1.7× leaves hardly anything to a library that reads its operations from a list and its numbers from memory.`,
    );
  return { name: "Solver", lines };
}

function setUpOnce(entries: Entries, machine: Machine): void {
  const circuit = circuitOf(entries);
  const elimination = eliminationOf(circuit, false);
  const program = programFor(
    elimination,
    OUTPUTS.map((name) => [circuit.nodeNumber.get(name)!, 0] as const),
  );
  const arrays = () => Array.from({ length: 5 }, () => new Float64Array(POINTS));
  planFor(elimination, program, grid, [], machine).run(
    circuit.branches.map(({ values }) => values),
    arrays(),
    arrays(),
    0,
  );
}

/** How many times the candidates of one worker two of them get through at the same time. */
async function twoWorkers(): Promise<number> {
  const start = () => new Worker(new URL("./candidates-worker.mjs", import.meta.url));
  const workers = [start(), start()];
  const rate = (worker: Worker) =>
    new Promise<number>((resolve, reject) => {
      worker.once("message", resolve);
      worker.once("error", reject);
      worker.postMessage("go");
    });
  try {
    await Promise.all(workers.map(rate));
    const ratios: number[] = [];
    for (let i = 0; i < 5; i++) {
      const alone = await rate(workers[0]!);
      const [first, second] = await Promise.all(workers.map(rate));
      ratios.push((first! + second!) / alone);
    }
    return ratios.sort((a, b) => a - b)[2]!;
  } finally {
    await Promise.all(workers.map((worker) => worker.terminate()));
  }
}

/** Milliseconds per sweep of low-pass ladders of growing length. */
function ladders(machine: Machine): readonly (readonly [number, number])[] {
  return [25, 50, 100, 200].map((length) => {
    const circuit = circuitOf(ladderOf(length));
    const elimination = eliminationOf(circuit, false);
    const plan = planFor(elimination, programFor(elimination, [[circuit.nodeNumber.get(`n${length - 1}`)!, 0]]), grid, [], machine);
    const [re, im] = [
      [new Float64Array(POINTS), new Float64Array(POINTS)],
      [new Float64Array(POINTS), new Float64Array(POINTS)],
    ];
    const values = circuit.branches.map((branch) => branch.values);
    return [length, usualTime(() => void plan.run(values, re, im, 0), 60)] as const;
  });
}
