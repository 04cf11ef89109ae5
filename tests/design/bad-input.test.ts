// What a redesign says where it can't do what was asked for: which limit, and how far it would have to give way; each relaxation is tried. The drivers are invented.
import { describe, expect, it } from "vitest";
import {
  capacitor,
  frequencyResponse,
  inductor,
  logGrid,
  loudspeaker,
  pressurePerVolt,
  resistor,
  type Loudspeaker,
} from "dividing-network";
import { chooseValues, redesign } from "dividing-network/design";
import { monitor, tweeter, woofer } from "./two-way";

const frequencies = logGrid(500, 12_000, 8);
const two = { series: "E3", maxParts: 2 } as const;
type Said = { readonly code: string; readonly message: string; readonly hint?: string };
const refusal = (call: () => Promise<unknown>): Promise<Said | undefined> =>
  call().then(
    () => undefined,
    (error: unknown) => error as Said,
  );
const design = (goal: object, more: object = {}, box: Loudspeaker = monitor()) =>
  refusal(() => redesign(box, { goal: { frequencies, limits: "stated", ...goal }, ...two, ...more } as never));
const line = (name: string, part: object, price?: number) => ({ name, part, lossKnown: true, ...(price === undefined ? {} : { price }) });

describe("a redesign that can't be", () => {
  it.each([
    [
      "smallestImpedance",
      (ohms: number) => ({ amplifier: { smallestImpedance: ohms } }),
      9,
      /smallestImpedance: \|Z\| falls to ([\d.]+) Ω/,
      -0.01,
    ],
    ["leastLevelDb", (db: number) => ({ leastLevelDb: db }), 95, /leastLevelDb: the mean level is ([\d.]+) dB/, -0.01],
    ["drivers.tweeter", (db: number) => ({ drivers: { tweeter: db } }), 60, /drivers\.tweeter: tweeter gets ([\d.]+) dB/, -0.1],
  ] as const)("names %s, and one relaxed as far as it says is enough", { timeout: 60_000 }, async (name, goal, asked, said, step) => {
    const error = await design(goal(asked));
    expect(error).toMatchObject({ code: "no-feasible-network", message: expect.stringContaining(name) as string });
    expect(error!.message).toContain("of the simplest topology (nor of any other)");
    const enough = Number(said.exec(error!.hint!)![1]) + step;
    expect(enough).toBeLessThan(asked);
    expect(await design(goal(enough))).toBeUndefined();
  });

  it(
    "says of limits that contradict each other that no one of them is enough, and how far all would have to give way",
    { timeout: 60_000 },
    async () => {
      const goal = (tweeterDb: number, level: number) => ({ drivers: { tweeter: tweeterDb }, leastLevelDb: level });
      const error = await design(goal(60, 95));
      expect(error?.hint).toContain("No one of these limits alone");
      const [spared, level] = [/tweeter gets ([\d.]+) dB/.exec(error!.hint!)![1], /the mean level is ([\d.]+) dB/.exec(error!.hint!)![1]];
      expect(await design(goal(Number(spared) - 0.1, Number(level) - 0.01))).toBeUndefined();
      expect(await design({ levelDb: 80, leastLevelDb: 90 })).toMatchObject({
        code: "invalid-argument",
        message: expect.stringMatching(/goal\.leastLevelDb.*must not lie above the corridor/) as string,
      });
    },
  );

  it("names the goal's frequencies or band where they lie outside what was measured", async () => {
    expect(await design({ frequencies: logGrid(50, 12_000, 8) })).toMatchObject({
      code: "outside-band",
      message: expect.stringMatching(/redesign: "goal\.frequencies", 50 Hz to 12 kHz, must lie within .*200 Hz to 16 kHz/) as string,
    });
    expect(await design({ frequencies: undefined, band: { from: 30_000, to: 40_000 } })).toMatchObject({
      code: "outside-band",
      message: expect.stringMatching(/"goal\.band", 30 kHz to 40 kHz/) as string,
    });
    expect(await design({ frequencies: undefined, band: { from: 20, to: 8000 } })).toMatchObject({ code: "outside-band" });
    expect(await design({ places: [{ azimuth: 77 }] })).toMatchObject({ code: "not-measured" });
    expect(
      await refusal(() => chooseValues(monitor(), { goal: { frequencies: logGrid(50, 9000, 5) }, values: { R2: [1] } } as never)),
    ).toMatchObject({ code: "outside-band", message: expect.stringContaining('chooseValues: "goal.frequencies"') as string });
  });

  it("says that without a common time zero pressures can't be added", async () => {
    const grid = logGrid(200, 16_000, 60);
    const alone = () => [
      pressurePerVolt({
        response: frequencyResponse(
          grid,
          grid.map(() => 0.1),
          grid.map(() => 0),
        ),
        drive: { voltage: 1, at: "terminals" },
        distance: 1,
        timeZero: "unknown",
      } as never),
    ];
    const make = () =>
      loudspeaker({
        network: { woofer: [woofer, "in", "gnd"], tweeter: [tweeter, "in", "gnd"] },
        drivers: [
          { name: "woofer", role: "woofer", pressures: alone() },
          { name: "tweeter", role: "tweeter", pressures: alone() },
        ],
      }) as unknown as Loudspeaker;
    const error = await refusal(async () => redesign(make(), { goal: { frequencies }, ...two }));
    expect(["no-common-time-zero", "invalid-argument"]).toContain(error?.code);
    expect(error!.message).toMatch(/time ?[zZ]ero/);
  });

  it("says what a drawer lacks: of one part, of resistors alone, of nothing, of what is too dear", async () => {
    const stocked = (stock: readonly object[], more: object = {}) => design({}, { series: undefined, stock, ...more });
    expect(await stocked([line("coil", inductor(1e-3))])).toMatchObject({
      code: "not-in-stock",
      message: expect.stringContaining("parts of every kind") as string,
    });
    expect(await stocked([line("wire", resistor(1))])).toMatchObject({ code: "not-in-stock" });
    expect(await stocked([])).toMatchObject({ code: "not-in-stock" });
    const dear = [line("coil", inductor(0.5e-3), 5), line("film", capacitor(8e-6), 5)];
    expect(await stocked(dear, { largestPrice: 7 })).toMatchObject({
      code: "no-feasible-network",
      message: expect.stringMatching(/stock: .*cost more than 7/) as string,
    });
    expect(await stocked(dear, { largestPrice: 10 })).toBeUndefined();
    // Values far from any that would do are still tried, and the limits that they break are named.
    const far = await design(
      { limits: "default" },
      { series: undefined, stock: [line("coil", inductor(1)), line("film", capacitor(1e-9))] },
    );
    expect(far).toMatchObject({ code: "no-feasible-network", message: expect.stringContaining("largestLevelLossDb") as string });
    expect(await refusal(() => chooseValues(monitor(), { goal: { frequencies }, values: { R2: [] } } as never))).toMatchObject({
      code: "invalid-argument",
    });
  });
});
