// Tests src/cores/: order.ts, worker-answer.ts, worker-script.ts, worker.ts, workers.ts
// Tests src/design/: redesign-request.ts, stock-supply.ts
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { writeFileSync } from "node:fs";
import { join, dirname } from "node:path";
import { logGrid } from "dividing-network";
import { redesignOnAllCores, type AllCoresOptions } from "dividing-network/cores";
import { redesign, type Redesign } from "dividing-network/design";
import { stock } from "dividing-network/parts";
import { monitor } from "../support/two-way";
import { builtScript } from "./worker-script";

const aim = {
  frequencies: logGrid(400, 12_000, 9),
  limits: "stated",
  largestLevelLossDb: 2,
  amplifier: { smallestImpedance: 4 },
} as const;
const asked = { goal: aim, maxParts: 3, series: "E6" } as const;
const text = (found: Redesign) => JSON.stringify(found);
const codeOf = async (call: () => Promise<unknown>): Promise<string> =>
  call().then(
    () => "none",
    (error: unknown) => (error as { code?: string }).code ?? String(error),
  );

let script: Awaited<ReturnType<typeof builtScript>>;
beforeAll(async () => {
  script = await builtScript();
}, 60_000);
afterAll(() => script.remove());
const onWorkers = (workers: number, options: AllCoresOptions) =>
  redesignOnAllCores(monitor(), { ...options, workers, workerScript: script.path });

describe("redesignOnAllCores", () => {
  it("gives with one, two and three workers what one core gives, to the last bit", { timeout: 60_000 }, async () => {
    const alone = await redesign(monitor(), asked);
    expect(alone.front.length).toBeGreaterThan(1);
    for (const workers of [1, 2, 3]) {
      const progress: number[] = [];
      const found = await onWorkers(workers, { ...asked, onProgress: ({ done, of }) => progress.push(done, of) });
      expect(text(found)).toBe(text(alone));
      expect(progress.slice(-2)).toEqual([found.topologies, found.topologies]);
    }
  });

  it("finds what is louder as redesign does, to the last bit", { timeout: 60_000 }, async () => {
    const louder = { ...asked, series: "E3", levelStepDb: 0.7 } as const;
    const alone = await redesign(monitor(), louder);
    expect(alone.front.some(({ proof }) => proof.includes("for its level"))).toBe(true);
    for (const workers of [1, 2]) expect(text(await onWorkers(workers, louder))).toBe(text(alone));
  });

  it("takes a law of coils, a stock and a third-octave goal as redesign does", { timeout: 60_000 }, async () => {
    const law = (l: number) => 200 * l;
    const wound = { ...asked, maxParts: 2, coilResistance: law };
    const found = await onWorkers(2, wound);
    expect(text(found)).toBe(text(await redesign(monitor(), wound)));
    const coil = Object.values(found.front[0]!.network).flatMap(([part]) => (part.kind === "inductor" ? [part] : []))[0]!;
    expect(coil.dcr).toBe(law(coil.inductance));
    const drawer = stock([
      ...[0.22e-3, 0.47e-3, 1e-3].map(
        (inductance, index) => ({ kind: "inductor", value: inductance, dcr: 300 * inductance, price: 4 + index, count: 2 }) as const,
      ),
      ...[2.2e-6, 4.7e-6, 10e-6].map(
        (capacitance, index) => ({ kind: "capacitor", value: capacitance, price: 3 + index, count: 2 }) as const,
      ),
      { kind: "resistor", value: 2.2, price: 1, count: 2 },
    ]);
    const buy = { goal: { band: { from: 400, to: 12_000 }, limits: "stated" }, stock: drawer, maxParts: 3, units: 2 } as const;
    const bought = await onWorkers(2, buy);
    expect(text(bought)).toBe(text(await redesign(monitor(), buy)));
    expect(Object.keys(bought.front[0]!.taken).length).toBeGreaterThan(0);
  });

  it("chooses by drawn loudspeakers as redesign does, to the last bit", { timeout: 60_000 }, async () => {
    const robust = { by: "yield", largestLossDb: 1.5, samples: 8, drivers: { woofer: { levelDb: 0.5 } } } as const;
    const alone = await redesign(monitor(), { ...asked, robust });
    expect(alone.front[0]!.robust!.yield).toBeGreaterThan(0);
    for (const workers of [1, 2]) expect(text(await onWorkers(workers, { ...asked, robust }))).toBe(text(alone));
  });

  it("stops at once when its signal says so, with what it has or without", { timeout: 60_000 }, async () => {
    const controller = new AbortController();
    const some = await onWorkers(2, {
      goal: aim,
      maxParts: 8,
      signal: controller.signal,
      onProgress: ({ done }) => done === 3 && controller.abort(),
    });
    expect(some.complete).toBe(false);
    expect(some.topologies).toBe(3);
    expect(some.front.length).toBeGreaterThan(0);
    expect(await codeOf(() => onWorkers(2, { ...asked, signal: { aborted: true } }))).toBe("aborted");
  });

  it("hands on an error of a worker with its code and its words, and ends the others", { timeout: 60_000 }, async () => {
    // A law that isn't a number for one value only fails where a topology asks for it: in a worker.
    const law = (l: number) => (l === 0.47e-3 ? Number.NaN : 300 * l);
    const both = [redesign(monitor(), { ...asked, coilResistance: law }), onWorkers(2, { ...asked, coilResistance: law })];
    const [here, there] = (await Promise.allSettled(both)).map(
      (each) => (each as PromiseRejectedResult).reason as Error & { code: string },
    );
    expect(there).toBeInstanceOf(Error);
    expect({ name: there!.name, code: there!.code, message: there!.message }).toEqual({
      name: here!.name,
      code: here!.code,
      message: here!.message,
    });
    // No network at all is found out in the workers, and said here.
    const hopeless = { ...asked, goal: { ...aim, amplifier: { smallestImpedance: 400 } } };
    expect(await codeOf(() => onWorkers(2, hopeless))).toBe("no-feasible-network");
  });

  it("says when a worker can't be started or breaks off, and what can't be sent", { timeout: 60_000 }, async () => {
    const at = (name: string, content?: string) => {
      const path = join(dirname(script.path), name);
      if (content !== undefined) writeFileSync(path, content);
      return path;
    };
    const missing = redesignOnAllCores(monitor(), { ...asked, workers: 2, workerScript: at("nowhere.mjs") });
    await expect(missing).rejects.toMatchObject({ name: "DividingNetworkError", code: "worker-failed" });
    const broken = redesignOnAllCores(monitor(), { ...asked, workers: 2, workerScript: at("broken.mjs", "throw new Error('no room');") });
    await expect(broken).rejects.toMatchObject({ code: "worker-failed", message: expect.stringContaining("no room") as string });
    const gone = redesignOnAllCores(monitor(), { ...asked, workers: 1, workerScript: at("gone.mjs", "process.exit(3);") });
    await expect(gone).rejects.toMatchObject({ code: "worker-failed" });
    for (const wrong of [{ workers: 0 }, { workers: 1.5 }, { workers: 1000 }, { workerScript: "" }, { workerScript: 7 }])
      expect(await codeOf(() => redesignOnAllCores(monitor(), { ...asked, ...wrong } as never))).toBe("invalid-argument");
  });
});
