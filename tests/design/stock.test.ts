// Searches among the parts of a stock against enumerations of all combinations with counts and prices, written here. No published source: drivers and drawers are invented.
import { describe, expect, it } from "vitest";
import { logGrid, network, type Entries } from "dividing-network";
import { goal, lossOf } from "dividing-network/assessment";
import { chooseValues, redesign } from "dividing-network/design";
import { bestCombination, combination, stock, type StockLine, type StockPart } from "dividing-network/parts";
import { preferredValues } from "dividing-network/quantity";
import { drawn, monitor, numbers } from "../support/two-way";

const aim = {
  frequencies: logGrid(400, 12_000, 16),
  limits: "stated",
  largestLevelLossDb: 3,
  amplifier: { smallestImpedance: 3 },
} as const;
const free = goal({ frequencies: aim.frequencies, limits: "stated" });
const codeOf = async (call: () => Promise<unknown>): Promise<string> =>
  call().then(
    () => "none",
    (error: unknown) => (error as { code: string }).code,
  );
const lossWith = (entries: Entries) => lossOf({ ...monitor(), network: network<Entries>(entries) }, free).lossDb;

/** A drawer of what a hobby leaves: the values of E6 in two decades, some only once. */
const drawer = stock([
  ...[1e-6, 1e-5].flatMap((decade) =>
    preferredValues("E6").map((step, i): StockLine => ({
      kind: "capacitor",
      value: Number((step * decade).toPrecision(3)),
      dissipationFactor: 0.002 + 0.001 * (i % 3),
      price: 1 + step / 4 + (decade > 5e-6 ? 3 : 0),
      count: 1 + (i % 2),
    })),
  ),
  ...[1e-4, 1e-3].flatMap((decade) =>
    preferredValues("E6").map((step, i): StockLine => ({
      kind: "inductor",
      value: Number((step * decade).toPrecision(3)),
      dcr: 0.1 + 200 * step * decade,
      price: 2 + step / 2 + (decade > 5e-4 ? 4 : 0),
      count: 1 + (i % 2),
    })),
  ),
  ...[1, 10].flatMap((decade) =>
    preferredValues("E6").map((step): StockLine => ({
      kind: "resistor",
      value: Number((step * decade).toPrecision(3)),
      power: "10 W",
      price: 0.8,
    })),
  ),
]);

describe("chooseValues among the parts of a stock", () => {
  const entriesOf = (parts: readonly StockPart[], names: readonly string[]) =>
    ({
      ...(drawn as unknown as Entries),
      ...Object.fromEntries(names.map((name, i) => [name, [parts[i]!.part, ...(drawn as unknown as Entries)[name]!.slice(1)]])),
    }) as Entries;

  it("finds what an enumeration finds that takes no part twice of which there is one, and keeps to a price", async () => {
    const capacitors = Object.entries(drawn as unknown as Entries)
      .filter(([, [part]]) => part.kind === "capacitor")
      .map(([name]) => name);
    const coils = Object.entries(drawn as unknown as Entries)
      .filter(([, [part]]) => part.kind === "inductor")
      .map(([name]) => name);
    expect(capacitors.length).toBeGreaterThan(0);
    expect(coils.length).toBeGreaterThan(0);
    const names = [...coils.slice(0, 2), ...capacitors.slice(0, 2)];
    const next = numbers(3);
    for (let round = 0; round < 6; round++) {
      const some = (kind: string) =>
        drawer.parts
          .filter(({ part }) => part.kind === kind)
          .filter(() => next() < 0.4)
          .slice(0, 4);
      const [c, l] = [some("capacitor"), some("inductor")];
      if (c.length < 2 || l.length < 2) continue;
      const options = names.map((name) => (coils.includes(name) ? l : c));
      const largestPrice = round % 2 === 0 ? undefined : 18 + 4 * next();
      let best = Infinity;
      const walk = (taken: readonly StockPart[]): void => {
        if (taken.length < names.length) return options[taken.length]!.forEach((one) => walk([...taken, one]));
        if (taken.some((one) => taken.filter((other) => other === one).length > (one.count ?? Infinity))) return;
        if (taken.reduce((sum, { price }) => sum + price!, 0) > (largestPrice ?? Infinity)) return;
        best = Math.min(best, lossWith(entriesOf(taken, names)));
      };
      walk([]);
      const call = chooseValues(monitor(), {
        goal: free,
        values: Object.fromEntries(names.map((name, i) => [name, options[i]!])),
        largestPrice,
      });
      if (best === Infinity) {
        expect(await codeOf(() => call)).toBe("no-feasible-network");
        continue;
      }
      const found = await call;
      expect(found.lossDb).toBeCloseTo(best, 9);
      expect(found.proven).toBe(true);
      const taken = Object.values(found.taken!).flat();
      for (const one of taken) expect(taken.filter((other) => other === one).length).toBeLessThanOrEqual(one.count ?? Infinity);
      if (largestPrice !== undefined) expect(taken.reduce((sum, { price }) => sum + price!, 0)).toBeLessThanOrEqual(largestPrice);
    }
  });

  it("takes combinations as candidates, and counts their pieces", async () => {
    const [name, entry] = Object.entries(drawn as unknown as Entries).find(([, [part]]) => part.kind === "capacitor")!;
    const asked = (entry[0] as { capacitance: number }).capacitance;
    const found = bestCombination(drawer, "capacitor", { value: asked * 1.07 });
    const chosen = await chooseValues(monitor(), { goal: free, values: { [name]: [found, drawer.parts[0]!] } });
    expect([found.parts, [drawer.parts[0]]]).toContainEqual(chosen.taken![name]);
    const [one] = drawer.parts.filter(({ part, count }) => part.kind === "capacitor" && count === 1);
    const twice = combination({ parallel: [one!, one!] });
    expect(await codeOf(() => chooseValues(monitor(), { goal: free, values: { [name]: [twice] } }))).toBe("no-feasible-network");
    expect(
      await codeOf(() =>
        chooseValues(monitor(), { goal: free, values: { [name]: [drawer.parts.find(({ part }) => part.kind === "resistor")!] } } as never),
      ),
    ).toBe("wrong-part");
    expect(await codeOf(() => chooseValues(monitor(), { goal: free, values: { [name]: [{ part: "2 µF" }] } } as never))).toBe(
      "invalid-argument",
    );
  });
});

describe("redesign from a stock", () => {
  it(
    "takes lines of the stock with their losses, no more of each than there are, and says what they cost",
    { timeout: 60_000 },
    async () => {
      const { front } = await redesign(monitor(), { goal: aim, stock: drawer, maxParts: 4 });
      expect(front.length).toBeGreaterThan(1);
      for (const { network: own, taken, price, parts } of front) {
        const lines = Object.entries(taken);
        expect(lines).toHaveLength(parts);
        for (const [name, line] of lines) {
          expect(drawer.parts).toContain(line);
          expect(own[name]![0]).toEqual(line.part);
          expect(lines.filter(([, other]) => other === line).length).toBeLessThanOrEqual(line.count ?? Infinity);
        }
        expect(price).toBeCloseTo(
          lines.reduce((sum, [, { price: each }]) => sum + each!, 0),
          9,
        );
      }
      front.forEach((one, index) =>
        front.slice(0, index).forEach((before) => expect(one.lossDb < before.lossDb || one.price! < before.price!).toBe(true)),
      );
    },
  );

  it("finds with two parts what an enumeration of the drawer finds, dear or cheap", { timeout: 60_000 }, async () => {
    const of = (kind: string) => drawer.parts.filter(({ part }) => part.kind === kind);
    for (const largestPrice of [undefined, 9]) {
      const { front } = await redesign(monitor(), {
        goal: { ...aim, amplifier: {}, largestLevelLossDb: undefined },
        stock: drawer,
        maxParts: 2,
        largestPrice,
      });
      let best = Infinity;
      for (const l of of("inductor")) {
        for (const c of of("capacitor")) {
          if (l.price! + c.price! > (largestPrice ?? Infinity)) continue;
          for (const turned of [false, true]) {
            const {
              woofer: [woofer],
              tweeter: [tweeter],
            } = drawn as unknown as { woofer: [never]; tweeter: [never] };
            const ends = turned ? ["gnd", "t"] : ["t", "gnd"];
            best = Math.min(
              best,
              lossWith({
                L1: [l.part, "in", "w"],
                woofer: [woofer, "w", "gnd"],
                C1: [c.part, "in", "t"],
                tweeter: [tweeter, ...ends],
              } as unknown as Entries),
            );
            // One driver after the other, each with the part across it that leads past it what belongs to the other.
            best = Math.min(
              best,
              lossWith({
                C1: [c.part, "in", "t"],
                woofer: [woofer, "in", "t"],
                L1: [l.part, "t", "gnd"],
                tweeter: [tweeter, ...ends],
              } as unknown as Entries),
            );
          }
        }
      }
      expect(Math.min(...front.map(({ lossDb }) => lossDb))).toBeCloseTo(best, 9);
    }
  });

  it("assumes losses where the stock states none, and refuses what can't be", { timeout: 60_000 }, async () => {
    const bare: readonly StockLine[] = [
      { kind: "inductor", value: "1 mH" },
      { kind: "capacitor", value: "4.7 µF" },
    ];
    const { front } = await redesign(monitor(), { goal: free, stock: bare, maxParts: 2 });
    expect(front[0]!.network["L1"]![0]).toMatchObject({ inductance: 1e-3, dcr: 0.35 });
    expect(front[0]!.price).toBeUndefined();
    expect(await codeOf(() => redesign(monitor(), { goal: free, stock: bare, series: "E12" }))).toBe("invalid-argument");
    expect(await codeOf(() => redesign(monitor(), { goal: free, largestPrice: 10 }))).toBe("invalid-argument");
    expect(await codeOf(() => redesign(monitor(), { goal: free, stock: [] }))).toBe("not-in-stock");
    expect(await codeOf(() => redesign(monitor(), { goal: free, stock: [bare[0]!], maxParts: 2 }))).toBe("not-in-stock");
    expect(await codeOf(() => redesign(monitor(), { goal: free, stock: bare, maxParts: 2, largestPrice: 5 }))).toBe("no-feasible-network");
    expect(
      await codeOf(() => redesign(monitor(), { goal: free, stock: bare.map((line) => ({ ...line, count: 1 })), maxParts: 2, units: 2 })),
    ).toBe("not-in-stock");
    expect(await codeOf(() => redesign(monitor(), { goal: free, units: 2 }))).toBe("invalid-argument");
  });
});
