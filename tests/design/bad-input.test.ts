// Tests src/design/: missing-goods.ts, lacking-kinds.ts, renamed.ts
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
import { inductive, part } from "dividing-network/parts";
import { drawn, monitor, tweeter, woofer } from "../support/two-way";

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

  it("looks beyond the simplest topology for one of which a single limit would have to give way", { timeout: 60_000 }, async () => {
    // Of first orders no network spares the tweeter so far; of a high-pass of second order some do.
    const goal = (ohms: number) => ({ drivers: { tweeter: 16 }, amplifier: { smallestImpedance: ohms } });
    const error = await design(goal(30), { maxParts: 3 });
    expect(error?.code).toBe("no-feasible-network");
    expect(error!.message).toMatch(/none of the \d+ networks of .*(high-pass of 2|in series).*\(nor of any other topology\)/);
    expect(error!.hint).toContain("relax one limit so far: smallestImpedance");
    const enough = Number(/\|Z\| falls to ([\d.]+) Ω/.exec(error!.hint!)![1]) - 0.01;
    expect(enough).toBeLessThan(30);
    expect(await design(goal(enough), { maxParts: 3 })).toBeUndefined();
  });

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
      message: expect.stringContaining("got no capacitor that can be had") as string,
    });
    expect(await stocked([line("film", capacitor(1e-5))])).toMatchObject({
      code: "not-in-stock",
      message: expect.stringContaining("got no coil that can be had") as string,
      hint: expect.stringContaining("Add coils") as string,
    });
    const neither = expect.stringContaining("got no coil and no capacitor that can be had") as string;
    expect(await stocked([line("wire", resistor(1))])).toMatchObject({ code: "not-in-stock", message: neither });
    expect(await stocked([])).toMatchObject({ code: "not-in-stock", message: neither });
    const single = [inductor(0.5e-3), capacitor(8e-6)].map((part) => ({ ...line("one", part), count: 1 }));
    expect(await stocked(single, { units: 2 })).toMatchObject({
      code: "not-in-stock",
      message: expect.stringContaining("that can be had 2 times, for 2 loudspeakers") as string,
    });
    const dear = [line("coil", inductor(0.5e-3), 5), line("film", capacitor(8e-6), 5)];
    expect(await stocked(dear, { largestPrice: 7 })).toMatchObject({
      code: "no-feasible-network",
      message: expect.stringMatching(/largestPrice: the parts cost 10 together, at most 7 is asked for/) as string,
    });
    expect(await stocked(dear, { largestPrice: 10 })).toBeUndefined();
    const [coil] = dear;
    const unpriced = await stocked([coil!, line("film, a gift", capacitor(8e-6))], { largestPrice: 100 });
    expect(unpriced).toMatchObject({
      code: "no-feasible-network",
      message: expect.stringContaining('largestPrice: no price is known of "film, a gift"') as string,
    });
    expect(unpriced!.message).not.toMatch(/more than|cost/);
    // Values far from any that would do are still tried, and the limits that they break are named.
    const far = await design(
      { limits: "default" },
      { series: undefined, stock: [line("coil", inductor(1)), line("film", capacitor(1e-9))] },
    );
    expect(far).toMatchObject({ code: "no-feasible-network", message: expect.stringContaining("largestLevelLossDb") as string });
  });

  it("says of parts that are taken more often than they are there how many are wanted and how many there", async () => {
    const box = monitor({
      L1: [inductor(0.5e-3), "in", "w"],
      C1: [capacitor(8e-6), "w", "gnd"],
      woofer: [woofer, "w", "gnd"],
      C2: [capacitor(8e-6), "in", "t"],
      tweeter: [tweeter, "t", "gnd"],
    });
    const film = line("film, box 2", capacitor(8e-6));
    const both = (count: number) =>
      refusal(() =>
        chooseValues(box, {
          goal: { frequencies, limits: "stated" },
          values: { C1: [{ ...film, count }], C2: [{ ...film, count }] },
        } as never),
      );
    expect(await both(2)).toBeUndefined();
    const shared = { ...film, count: 1 };
    expect(
      await refusal(() => chooseValues(box, { goal: { frequencies, limits: "stated" }, values: { C1: [shared], C2: [shared] } } as never)),
    ).toMatchObject({
      code: "no-feasible-network",
      message: expect.stringContaining('stock: of "film, box 2" 2 are wanted and 1 there') as string,
    });
  });

  it("calls parts as the network that it hands over calls them", async () => {
    const stock = [line("thin", inductor(0.5e-3, { current: 0.1 })), line("low", capacitor(8e-6, { voltage: 10 }))];
    const error = await design({ amplifier: { voltage: 200 } }, { series: undefined, stock, ratedImpedance: 6 });
    expect(error).toMatchObject({ code: "no-feasible-network" });
    expect(error!.message).toMatch(/ratings\.L1: L1 carries/);
    expect(error!.message).toMatch(/ratings\.C1: C1 gets/);
    expect(error!.message).not.toContain("/");
  });

  it("names the limit that a branch without candidates breaks", async () => {
    const refused = (goal: object, values: object) =>
      refusal(() => chooseValues(monitor(), { goal: { frequencies, limits: "stated", ...goal }, values } as never));
    const damped = await refused({ damping: { largestSourceResistance: 0.001 } }, { C2: ["4.7 µF", "5.6 µF"] });
    expect(damped).toMatchObject({
      code: "no-feasible-network",
      message: expect.stringContaining("damping.woofer: woofer sees") as string,
    });
    expect(damped!.message).not.toMatch(/tweeter|spare/);
    const spared = await refused({ drivers: { tweeter: 60 } }, { L1: ["0.5 mH", "0.7 mH"] });
    expect(spared).toMatchObject({
      code: "no-feasible-network",
      message: expect.stringContaining("drivers.tweeter: tweeter gets") as string,
    });
  });

  it("says which parts can be chosen where one can't", async () => {
    const cored = part({ title: "Cored coil", branches: [{ law: inductive(0.68e-3) }] });
    const refused = (values: object) =>
      refusal(() => chooseValues(monitor({ ...drawn, L1: [cored, "in", "w"] }), { goal: { frequencies }, values } as never));
    const custom = await refused({ L1: ["0.5 mH"] });
    expect(custom).toMatchObject({ code: "invalid-argument", hint: expect.stringContaining("it stays as drawn; or draw") as string });
    expect(custom!.message).not.toMatch(/measured|hangs/);
    expect(await refused({ woofer: ["8 Ω"] })).toMatchObject({ hint: expect.stringContaining("was measured") as string });
    expect(await refusal(() => chooseValues(monitor(), { goal: { frequencies }, values: { R2: [] } } as never))).toMatchObject({
      code: "invalid-argument",
    });
  });
});
