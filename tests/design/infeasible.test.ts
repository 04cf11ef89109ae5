// Tests src/design/: goods.ts
// What the error of an infeasible search says of its limits, against the same search with a limit relaxed that far, and not quite that far.
import { logGrid } from "dividing-network";
import { chooseValues } from "dividing-network/design";
import { describe, expect, it } from "vitest";
import { monitor } from "../support/two-way";

const aim = { frequencies: logGrid(400, 11_000, 9), limits: "stated" as const };
const values = { L1: [0.3e-3, 0.6e-3, 1e-3], C1: [5e-6, 10e-6, 20e-6], R2: [1, 2.2, 4.7], C2: [3e-6, 6e-6] };
type Limits = {
  readonly amplifier?: { readonly smallestImpedance: number };
  readonly leastLevelDb?: number;
  readonly drivers?: Readonly<Record<string, number>>;
};
const ask = (limits: Limits) =>
  chooseValues(monitor(), { goal: { ...aim, ...limits }, values } as never).then(
    () => undefined,
    (error: unknown) => error as { readonly code: string; readonly message: string; readonly hint?: string },
  );

describe("a search without a network that keeps its limits", () => {
  it("says of each limit that alone would be enough how far it would have to give way", async () => {
    const asked: Limits = { amplifier: { smallestImpedance: 5.5 }, leastLevelDb: 86.5, drivers: { tweeter: 30 } };
    const error = await ask(asked);
    expect(error?.code).toBe("no-feasible-network");
    const hint = error!.hint!;
    expect(hint).toContain("relax one limit so far");
    const numbers = {
      smallestImpedance: Number(/smallestImpedance: \|Z\| falls to ([0-9.]+)/.exec(hint)?.[1]),
      tweeter: Number(/drivers.tweeter: tweeter gets ([0-9.]+)/.exec(hint)?.[1]),
      level: Number(/leastLevelDb: the mean level is ([0-9.]+)/.exec(hint)?.[1]),
    };
    const told = Object.values(numbers).filter(Number.isFinite);
    expect(told.length).toBeGreaterThan(0);
    // As printed, less half of its last digit, is enough; a little more isn't.
    const tries: readonly [number, (value: number) => Limits, number][] = [
      [numbers.smallestImpedance, (value) => ({ ...asked, amplifier: { smallestImpedance: value } }), 0.006],
      [numbers.tweeter, (value) => ({ ...asked, drivers: { tweeter: value } }), 0.06],
      [numbers.level, (value) => ({ ...asked, leastLevelDb: value }), 0.006],
    ];
    for (const [value, relaxed, step] of tries) {
      if (!Number.isFinite(value)) continue;
      expect(await ask(relaxed(value - step)), `${value}`).toBeUndefined();
      expect((await ask(relaxed(value + step)))?.code, `${value}`).toBe("no-feasible-network");
    }
  });

  it("says one limit once where it is the only one", async () => {
    const error = await ask({ leastLevelDb: 95 });
    expect(error?.message).toContain("leastLevelDb: the mean level is");
    const least = Number(/the mean level is ([0-9.]+)/.exec(error!.hint!)?.[1]);
    expect(await ask({ leastLevelDb: least - 0.006 })).toBeUndefined();
    expect((await ask({ leastLevelDb: least + 0.006 }))?.code).toBe("no-feasible-network");
  });
});
