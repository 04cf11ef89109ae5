// Tests src/network/: circuit.ts
// Tests src/network/kernels/: block.ts, pack.ts, plain-writer.ts, unpack.ts, wasm-writer.ts, writers.ts
// Tests src/network/slopes/: beyond.ts, jacobian-program.ts, objective-program.ts, weighted-sum.ts
// Tests src/network/solve/: branch-tables.ts, coil-matrix.ts, elimination.ts, code-writer.ts, link-program.ts, plan.ts, program-builder.ts, program-values.ts, program.ts
// Tests src/network/solve/: slope-tables.ts, triangle.ts, way-back.ts, way-in.ts
// The two machines that run a program, WebAssembly kernels and plain ones, do the same arithmetic in the same order: their
// results agree to the last bit. The plain machine is each other test's subject where WebAssembly may not be compiled.
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Entries } from "dividing-network/network";
import { circuitOf } from "../../src/network/circuit";
import { eliminationOf } from "../../src/network/solve/elimination";
import { jacobianProgram } from "../../src/network/slopes/jacobian-program";
import { plainMachine, wasmMachine, wasmModule, type Machine } from "../../src/network/kernels/machine";
import { BLOCK, BLOCK_BYTES } from "../../src/network/kernels/block";
import { OP, OPERANDS } from "../../src/network/kernels/generated/operations";
import { pack } from "../../src/network/kernels/pack";
import { unpack } from "../../src/network/kernels/unpack";
import { generatedFiles } from "../../src/network/kernels/writers";
import { objectiveProgram } from "../../src/network/slopes/objective-program";
import { planFor } from "../../src/network/solve/plan";
import { programFor, type Program } from "../../src/network/solve/program";
import type { GivenTable } from "../../src/network/solve/plan";
import { randomNetwork, seeded } from "../support/random-network";
import { cases } from "../support/cases";

const wasm = wasmMachine()!;

/** Everything that a program puts out on one machine: outputs and sums, as the bytes they are. */
function bytes(entries: Entries, program: Program, given: readonly GivenTable[], frequencies: Float64Array, machine: Machine): Uint8Array {
  const circuit = circuitOf(entries);
  const plan = planFor(eliminationOf(circuit, false), program, frequencies, given, machine);
  const arrays = () => Array.from({ length: program.outputs }, () => new Float64Array(frequencies.length));
  const [re, im] = [arrays(), arrays()];
  plan.run(
    circuit.branches.map(({ values }) => values),
    re,
    im,
    0,
  );
  const sums = Float64Array.from({ length: program.sums }, (_, k) => plan.sum(k));
  return new Uint8Array(Float64Array.from([...re, ...im, sums].flatMap((array) => [...array])).buffer);
}

describe("the generated files", () => {
  it("are what the table of operations makes, to the last character: `npm run kernels` writes them", () => {
    const folder = join(import.meta.dirname, "../../src/network/kernels/generated");
    const files = generatedFiles();
    expect(readdirSync(folder).sort()).toEqual(Object.keys(files).sort());
    for (const [name, text] of Object.entries(files)) expect(readFileSync(join(folder, name), "utf8") === text, name).toBe(true);
  });

  it("hold no more than a plain list of operations, loops and digits: nothing in them is looked up or made at run time", () => {
    const { "plain.ts": plain, "wasm.ts": packed } = generatedFiles();
    expect(plain).not.toMatch(/new |eval|Function\(/);
    expect(
      packed!
        .split("\n")
        .filter((line) => !/^( {2}"[^"\\]*"( \+|;)|\/.*|export const (RULES|TEXT) =|export const LENGTH = \d+;|)$/.test(line)),
    ).toEqual([]);
  });

  it("give back the bytes that were packed, whatever they are", () => {
    fc.assert(
      fc.property(
        fc.array(
          fc.integer({ min: 0, max: 3 }).map((k) => [0, 17, 0xfd, 0xff][k]!),
          { maxLength: 200 },
        ),
        (list) => {
          const { rules, text } = pack(Uint8Array.from(list));
          expect([...unpack(list.length, rules, text)]).toEqual(list);
        },
      ),
      { numRuns: cases(200) },
    );
  });
});

describe("the WebAssembly kernels", () => {
  it("are a valid module, and run where WebAssembly may be compiled", () => {
    expect(WebAssembly.validate(wasmModule())).toBe(true);
    expect(wasm.kind).toBe("webassembly");
  });

  it("agree with the plain kernels bit for bit, for sweeps, losses with slopes and Jacobians, on grids of any length", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 1e9 }),
        fc.integer({ min: 2, max: 9 }),
        fc.integer({ min: 1, max: 400 }),
        fc.integer({ min: 0, max: 2 }),
        (seed, nodes, points, couplings) => {
          const random = seeded(seed);
          const entries = randomNetwork(random, { nodes, decades: 4, loss: 0.7, couplings });
          const circuit = circuitOf(entries);
          const elimination = eliminationOf(circuit, false);
          const frequencies = Float64Array.from({ length: points }, (_, i) => 10 * 1.02 ** i);
          const table = (size: number): GivenTable => ({
            re: Float64Array.from(frequencies, () => size * (0.5 + random())),
            im: Float64Array.from(frequencies, () => random()),
          });
          const inner = circuit.nodes.map((_, node) => node).filter((node) => elimination.rootOf[node]! > 1);
          const pairs = inner.slice(0, 3).map((node) => [node, 0] as const);
          const programs: [Program, GivenTable[]][] = [
            [
              programFor(
                elimination,
                circuit.branches.map(({ from, to }) => [from, to] as const),
              ),
              [],
            ],
          ];
          if (pairs.length > 0) {
            const wanted = circuit.branches.flatMap(({ law }, branch) => law.parameters.map((__, index) => ({ branch, index })));
            programs.push([objectiveProgram(elimination, pairs, wanted).program, [...pairs.map(() => table(1)), table(1)]]);
            programs.push([
              jacobianProgram(elimination, pairs, wanted).program,
              [{ re: new Float64Array(points).fill(1), im: new Float64Array(points) }],
            ]);
          }
          for (const [program, given] of programs)
            expect(
              Buffer.compare(
                bytes(entries, program, given, frequencies, wasm),
                bytes(entries, program, given, frequencies, plainMachine()),
              ),
            ).toBe(0);
        },
      ),
      { numRuns: cases(60) },
    );
  });

  it("agree with the plain kernels bit for bit in each operation of the table, over blocks and what is left of one", () => {
    const random = seeded(11);
    const plain = plainMachine();
    for (const [name, operation] of Object.entries(OP)) {
      for (const points of [4, BLOCK, 2 * BLOCK + 12]) {
        // Tables of as many numbers as there are points, room for a row of five of them, and what blocks, values and sums take.
        const stride = 8 * points;
        const room = Math.max(12 * stride, 2 * BLOCK_BYTES);
        const at = [1, 2, 3].map((k) => 64 + stride * 2 + k * room);
        const found = [plain, wasm].map((machine) => {
          machine.ensure(64 + 2 * stride + 5 * room);
          machine.owner = undefined;
          return machine;
        });
        const numbers = Float64Array.from({ length: (64 + 2 * stride + 5 * room) / 8 }, () => random() - 0.5);
        const [first, second] = found.map((machine) => {
          machine.memory.set(numbers);
          machine.integers.set([operation, ...OPERANDS[operation]!.map((_, k) => at[k]!)], 0);
          machine.run(0, 16, stride, 0, stride, 64, 64 + stride);
          return Buffer.from(machine.memory.slice(8, numbers.length).buffer);
        });
        expect(Buffer.compare(first!, second!), `${name}, ${points} points`).toBe(0);
        expect(Buffer.compare(first!, Buffer.from(numbers.slice(8).buffer)), `${name} does something`).not.toBe(0);
      }
    }
  });

  it("give every plan its own results although all share one memory", () => {
    const random = seeded(7);
    const frequencies = Float64Array.from({ length: 300 }, (_, i) => 20 * 1.02 ** i);
    const plans = Array.from({ length: 4 }, () => {
      const circuit = circuitOf(randomNetwork(random, { nodes: 5 }));
      const elimination = eliminationOf(circuit, false);
      const plan = planFor(elimination, programFor(elimination, [[1, 0]]), frequencies, [], wasm);
      const run = () => {
        const [re, im] = [
          [new Float64Array(300), new Float64Array(300)],
          [new Float64Array(300), new Float64Array(300)],
        ];
        plan.run(
          circuit.branches.map(({ values }) => values),
          re,
          im,
          0,
        );
        return [...re[0]!, ...im[0]!];
      };
      return { run, alone: run() };
    });
    for (const k of [2, 0, 3, 1, 1, 2]) expect(plans[k]!.run()).toEqual(plans[k]!.alone);
  });
});
