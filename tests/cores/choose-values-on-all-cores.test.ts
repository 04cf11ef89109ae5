// Tests src/cores/: workers-options.ts
// Tests src/design/: values-in-pieces.ts, values-plan.ts
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { logGrid } from "dividing-network";
import { chooseValuesOnAllCores, type ChooseValuesOnAllCoresOptions } from "dividing-network/cores";
import { chooseValues, type ChosenValues } from "dividing-network/design";
import { stock } from "dividing-network/parts";
import { monitor } from "../support/two-way";
import { builtScript } from "./worker-script";

const goal = {
  frequencies: logGrid(400, 10_000, 12),
  limits: "stated",
  largestLevelLossDb: 3,
  amplifier: { smallestImpedance: 3.2 },
} as const;
const values = {
  L1: ["0.33 mH", "0.47 mH", "0.68 mH", "1 mH", "1.5 mH"],
  C1: ["4.7 µF", "6.8 µF", "10 µF", "15 µF", "open"],
  R1: ["4.7 Ω", "6.8 Ω"],
  C2: ["2.7 µF", "3.9 µF", "5.6 µF", "8.2 µF"],
  L2: ["0.15 mH", "0.22 mH", "0.33 mH", "0.47 mH"],
  R2: ["1 Ω", "2.2 Ω", "4.7 Ω", "short"],
} as const;
const asked = { goal, values, polarity: { tweeter: "either" } } as const;
const textOf = (found: ChosenValues) => JSON.stringify(found);
/** All but how much was looked at, which a divided search does more of. */
const foundBy = ({ evaluated: _, ...rest }: ChosenValues) => JSON.stringify(rest);
const failing = async (call: () => Promise<unknown>): Promise<{ readonly code: string; readonly message: string }> =>
  call().then(
    () => ({ code: "none", message: "" }),
    (error: unknown) => error as { code: string; message: string },
  );

let script: Awaited<ReturnType<typeof builtScript>>;
beforeAll(async () => {
  script = await builtScript();
}, 60_000);
afterAll(() => script.remove());
const onWorkers = (workers: number, options: object) =>
  chooseValuesOnAllCores(monitor(), { ...options, workers, workerScript: script.path } as unknown as ChooseValuesOnAllCoresOptions);
const alone = (options: object) => chooseValues(monitor(), options as never);

describe("chooseValuesOnAllCores", () => {
  it("gives the same with one, two and five workers, and what one core gives, to the last bit", { timeout: 60_000 }, async () => {
    for (const options of [asked, { ...asked, goal: { ...goal, levelDb: 84 } }]) {
      const here = await alone(options);
      expect([here.proven, here.networks]).toEqual([true, 6400]);
      const shares: number[] = [];
      const there = await onWorkers(1, { ...options, onProgress: ({ share }: { share: number }) => shares.push(share) });
      expect(foundBy(there)).toBe(foundBy(here));
      expect(shares).toEqual([1, 2, 3, 4, 5, 6, 7, 8].map((piece) => piece / 8));
      for (const workers of options === asked ? [2, 5] : [3]) expect(textOf(await onWorkers(workers, options))).toBe(textOf(there));
    }
  });

  it(
    "judges each network of a small space by third octaves as one core does, and a large one as far as it goes",
    { timeout: 60_000 },
    async () => {
      const third = { band: { from: 500, to: 8000 }, limits: "stated" } as const;
      const small = { goal: third, values: { L1: values.L1, C2: values.C2, R2: values.R2 }, polarity: asked.polarity };
      expect(textOf(await onWorkers(2, small))).toBe(textOf(await alone(small)));
      const large = { ...asked, goal: third };
      const [here, there] = [await alone(large), await onWorkers(2, large)];
      expect(here.networks).toBeGreaterThan(2000);
      expect(foundBy(there)).toBe(foundBy(here));
    },
  );

  it("chooses by drawn loudspeakers, and among the parts of a stock, as one core does", { timeout: 60_000 }, async () => {
    const drawn = { goal, values: { L1: values.L1, C2: values.C2 }, robust: { samples: 8 } };
    expect(textOf(await onWorkers(2, drawn))).toBe(textOf(await alone(drawn)));
    // Pieces are told what those before them found, and needn't find anything better.
    const more = {
      ...drawn,
      values: { ...drawn.values, R1: values.R1, L2: values.L2 },
      robust: { samples: 8, by: "yield", largestLossDb: 3 },
    };
    expect(textOf(await onWorkers(3, more))).toBe(textOf(await alone(more)));
    const drawer = stock([
      { kind: "capacitor", value: "10 µF", price: 3, count: 1 },
      { kind: "capacitor", value: "4.7 µF", price: 2, count: 1 },
      { kind: "inductor", value: "0.47 mH", dcr: 0.2, price: 6, count: 1 },
      { kind: "inductor", value: "0.33 mH", dcr: 0.2, price: 5, count: 2 },
    ]);
    const [capacitors, coils] = [drawer.parts.slice(0, 2), drawer.parts.slice(2)];
    const bought = { goal, values: { C1: capacitors, C2: capacitors, L1: coils, L2: coils }, largestPrice: 16 };
    const [here, there] = [await alone(bought), await onWorkers(2, bought)];
    expect(foundBy(there)).toBe(foundBy(here));
    expect(there.taken!["C1"]![0]).not.toBe(there.taken!["C2"]![0]);
    expect(drawer.parts).toContain(there.taken!["C1"]![0]);
  });

  it("says as one core does which limits no network keeps, and stops when its signal says so", { timeout: 60_000 }, async () => {
    const hopeless = { ...asked, goal: { ...goal, amplifier: { smallestImpedance: 100 } } };
    const [here, there] = [await failing(() => alone(hopeless)), await failing(() => onWorkers(2, hopeless))];
    expect(there.code).toBe("no-feasible-network");
    expect(there.message.replace("chooseValuesOnAllCores", "chooseValues")).toBe(here.message);
    expect((await failing(() => onWorkers(2, { ...asked, signal: { aborted: true } }))).code).toBe("aborted");
    const controller = new AbortController();
    const some = await onWorkers(1, { ...asked, signal: controller.signal, onProgress: () => controller.abort() });
    expect(some.proven).toBe(false);
    expect(some.lowerBoundDb).toBe(0);
    expect(some.lossDb).toBeGreaterThan(0);
  });

  it("refuses what it can't do before any worker starts", async () => {
    expect((await failing(() => onWorkers(2, { ...asked, shard: { index: 0, of: 2 } }))).code).toBe("unknown-option");
    expect((await failing(() => onWorkers(0, asked))).code).toBe("invalid-argument");
    expect((await failing(() => onWorkers(2, { goal, values: {} }))).code).toBe("invalid-argument");
    expect((await failing(() => chooseValuesOnAllCores(monitor(), { ...asked, workerScript: "" } as never))).code).toBe("invalid-argument");
  });
});
