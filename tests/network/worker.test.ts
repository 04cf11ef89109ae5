// In a worker: networks, options and results go through structured cloning, and the numbers are the same to the last bit.
import { join } from "node:path";
import { Worker } from "node:worker_threads";
import { build } from "esbuild";
import { network, tolerance } from "dividing-network/network";
import { logGrid } from "dividing-network/numeric";
import { capacitor, coupling, driverImpedance, inductor, lPad, resistor, transformer } from "dividing-network/parts";
import { frequencyResponse } from "dividing-network/response";
import { beforeAll, describe, expect, it } from "vitest";
import { answer, type Job } from "./worker-job";

const frequencies = logGrid(50, 15_000, 200);
const measuredAt = logGrid(20, 20_000, 60);
const measured = frequencyResponse(
  measuredAt,
  measuredAt.map((f) => 5 + 2 / (1 + (f / 900 - 900 / f) ** 2)),
  measuredAt.map((f) => f / 4000),
  [{ kind: "smoothed", note: "1/12 octave" }],
);
const entries = network({
  C1: [capacitor("6.8 µF", { esr: 0.02 }), "in", "a"],
  L1: [inductor("0.33 mH", { dcr: 0.24 }), "a", "gnd"],
  L2: [inductor("1.2 mH", { dcr: 0.4 }), "in", "w"],
  K1: [coupling(0.03), "L1", "L2"],
  P1: [lPad({ attenuationDb: 4, load: 6 }), "a", "t", "gnd"],
  T1: [
    transformer({ primaryInductance: 0.2, secondaryInductance: 0.2, k: 0.9, primaryResistance: 0.1, secondaryResistance: 0.1 }),
    "w",
    "gnd",
    "s",
    "gnd",
  ],
  R1: [resistor(100), "s", "gnd"],
  tweeter: [driverImpedance(measured), "t", "gnd"],
  woofer: [driverImpedance({ re: 5.6, le: 4e-4, fs: 40, qms: 3, qes: 0.4 }), "w", "gnd"],
});
const options = {
  outputs: ["t", "w", "impedance"],
  tolerances: { C1: 0.05, woofer: { fs: 0.1 } },
  byKind: { resistor: 0.05 },
  distribution: "normal",
  samples: 150,
  seed: 9,
  limits: { output: "t", lowerDb: -90 },
  sourceImpedance: { resistance: 0.1 },
} as const;

describe("in a worker", () => {
  let code = "";

  beforeAll(async () => {
    const src = join(import.meta.dirname, "../../src");
    const contents = `
      import { parentPort, workerData } from "node:worker_threads";
      import { answer } from "./worker-job";
      parentPort.postMessage(answer(workerData));
    `;
    const { outputFiles } = await build({
      stdin: { contents, resolveDir: import.meta.dirname },
      bundle: true,
      write: false,
      format: "cjs",
      platform: "node",
      target: "es2022",
      alias: { "dividing-network/network": join(src, "network/index.ts") },
    });
    code = outputFiles[0]!.text;
  }, 60_000);

  const inWorker = (job: Job) =>
    new Promise<ReturnType<typeof answer>>((resolve, reject) => {
      const worker = new Worker(code, { eval: true, workerData: job });
      worker.once("message", resolve).once("error", reject);
    });

  it("a network with measured drivers, its options and results survive structured cloning", () => {
    expect(structuredClone(entries)).toEqual(entries);
    expect(structuredClone(options)).toEqual(options);
    const here = answer({ entries, frequencies, options });
    expect(structuredClone(here)).toEqual(here);
    expect(answer(structuredClone({ entries, frequencies, options }))).toEqual(here);
  });

  it("solving and scattering give the same bits as here", async () => {
    const [here, there] = [answer({ entries, frequencies, options }), await inWorker({ entries, frequencies, options })];
    expect(there).toEqual(here);
    const bits = (list: readonly { readonly re: Float64Array; readonly im: Float64Array }[]) =>
      list.flatMap(({ re, im }) => [re, im].map((values) => [...new BigUint64Array(values.buffer, values.byteOffset, values.length)]));
    expect(bits([...there.voltages, ...there.currents, there.impedance])).toEqual(
      bits([...here.voltages, ...here.currents, here.impedance]),
    );
    expect(there.impedance.marks).toEqual([{ kind: "smoothed", note: "1/12 octave" }]);
    expect(there.scatter.yield!.samples).toBe(150);
  });

  it("two workers work at the same time, each with a memory of its own", async () => {
    const other = { entries, frequencies: logGrid(60, 14_000, 333), options: { ...options, seed: 10 } };
    const [first, second] = await Promise.all([inWorker({ entries, frequencies, options }), inWorker(other)]);
    expect(first).toEqual(answer({ entries, frequencies, options }));
    expect(second).toEqual(answer(other));
    expect(first.scatter.bands).not.toEqual(second.scatter.bands);
  });

  it("a flag in shared memory stops it from outside, by an object with `aborted`", () => {
    const flag = new Int32Array(new SharedArrayBuffer(4));
    const signal = {
      get aborted() {
        return Atomics.load(flag, 0) !== 0;
      },
    };
    expect(() =>
      tolerance(entries, frequencies, {
        ...options,
        signal,
        onProgress: (done) => {
          if (done >= 32) Atomics.store(flag, 0, 1);
        },
      }),
    ).toThrow(expect.objectContaining({ code: "aborted" }));
  });
});
