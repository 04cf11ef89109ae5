// Tests src/report/: connections.ts, text-width.ts
// Tests src/report/schematic/: ladder-layout.ts, node-names.ts, pieces.ts, series-parallel.ts, sheet.ts, strips.ts
import { describe, expect, it } from "vitest";
import { capacitor, coupling, driverImpedance, fragment, inductor, lPad, resistor, transformer, type Entries } from "../../../src";
import { schematic } from "../../../src/report";
import { pixelsOf } from "../../../src/report/text-width";

type Point = [number, number];
type Box = [left: number, top: number, right: number, bottom: number, whose: string];
const numbers = (text: string): number[] => text.trim().split(/[ ,]+/).map(Number);
const close = (a: number, b: number): boolean => Math.abs(a - b) < 0.02;

/** What is drawn, read back from the SVG text alone. */
function readBack(svg: string) {
  const wires = Array.from(
    /class="dn-stroke dn-wire"[^>]* d="([^"]*)"/.exec(svg)?.[1]?.matchAll(/M([^L]+)L([^M]+)/g) ?? [],
    ([, a, b]) => [numbers(a!), numbers(b!)] as [Point, Point],
  );
  const dots = Array.from(
    svg.matchAll(/<circle class="dn-ink" fill="[^"]*" cx="([^"]+)" cy="([^"]+)" r="3"\/>/g),
    ([, x, y]) => [Number(x), Number(y)] as Point,
  );
  const symbols = Array.from(svg.matchAll(/<g data-part="([^"]*)" data-ends="([^"]*)">(.*?)<\/g>/g), ([, part, ends, inside]) => ({
    part: part!,
    ends: numbers(ends!),
    inside: inside!,
  }));
  const terminals = Array.from(svg.matchAll(/<g data-node="([^"]*)" data-ends="([^"]*)">/g), ([, node, at]) => ({
    node: node!,
    at: numbers(at!) as Point,
  }));
  const texts = Array.from(svg.matchAll(/<text ([^>]*)>([^<]*)<\/text>/g), ([, attributes, text]): Box => {
    const value = (name: string): string | undefined => new RegExp(`(?:^| )${name}="([^"]*)"`).exec(attributes!)?.[1];
    const [x, y, size] = [Number(value("x")), Number(value("y")), Number(value("font-size") ?? 12)];
    const width = pixelsOf(text!, size);
    const left = value("text-anchor") === "middle" ? x - width / 2 : x;
    return [left, y - 0.8 * size, left + width, y + 0.2 * size, text!];
  });
  return { wires, dots, symbols, terminals, texts };
}

/** Where a wire touches a point: at an end, or inside it. */
function touch([a, b]: [Point, Point], [x, y]: Point): "end" | "inside" | undefined {
  if ((close(a[0], x) && close(a[1], y)) || (close(b[0], x) && close(b[1], y))) return "end";
  const level = close(a[1], b[1]) && close(a[1], y) && (a[0] - x) * (b[0] - x) < 0;
  const plumb = close(a[0], b[0]) && close(a[0], x) && (a[1] - y) * (b[1] - y) < 0;
  return level || plumb ? "inside" : undefined;
}

/** The nets of the drawing: ends of symbols that wires join. Wires that cross are apart, unless one of them ends there. */
function netsOf(svg: string): string[] {
  const { wires, symbols, terminals } = readBack(svg);
  const net = wires.map((_, k) => k);
  const root = (k: number): number => (net[k] === k ? k : root(net[k]!));
  wires.forEach((wire, i) =>
    wires.forEach((other, k) => {
      if (i !== k && wire.some((end) => touch(other, end) !== undefined)) net[root(i)] = root(k);
    }),
  );
  // Flags of one name are one joint.
  const flags = new Map<string, number>();
  for (const { node, at } of terminals) {
    const found = wires.findIndex((wire) => touch(wire, at) !== undefined);
    if (found < 0) continue;
    const first = flags.get(node);
    if (first === undefined) flags.set(node, found);
    else net[root(found)] = root(first);
  }
  const members = new Map<string, string[]>();
  const put = (at: Point, name: string): void => {
    const found = wires.findIndex((wire) => touch(wire, at) !== undefined);
    const key = found < 0 ? `loose ${at.join(" ")}` : String(root(found));
    members.set(key, [...(members.get(key) ?? []), name]);
  };
  const count = new Map<string, number>();
  for (const { part, ends } of symbols) {
    const turn = count.get(part) ?? 0;
    count.set(part, turn + 1);
    put([ends[0]!, ends[1]!], `${part}.${turn}.first`);
    put([ends[2]!, ends[3]!], `${part}.${turn}.second`);
  }
  for (const end of ["in", "gnd"]) {
    const terminal = terminals.find(({ node }) => node === end);
    if (terminal !== undefined) put(terminal.at, end);
  }
  return Array.from(members.values(), (names) => names.sort().join(" ")).sort();
}

function wanted(network: Entries): string[] {
  const members = new Map<string, string[]>([
    ["in", ["in"]],
    ["gnd", ["gnd"]],
  ]);
  const put = (node: string, name: string): unknown => members.set(node, [...(members.get(node) ?? []), name]);
  for (const [name, [part, a, b, c, d]] of Object.entries(network)) {
    if (part.kind === "coupling") continue;
    put(a, `${name}.0.first`);
    put(b, `${name}.0.second`);
    const second =
      part.kind === "transformer"
        ? ([c!, d!] as const)
        : part.kind === "l-pad" && part.shunt !== undefined
          ? ([b, c!] as const)
          : undefined;
    if (second === undefined) continue;
    put(second[0], `${name}.1.first`);
    put(second[1], `${name}.1.second`);
  }
  return Array.from(members.values(), (names) => names.sort().join(" ")).sort();
}

/** Pairs that overlap: texts, symbols and wires of the drawing. */
function overlaps(svg: string): string[] {
  const { wires, symbols, texts } = readBack(svg);
  const bodies = symbols.map(({ part, ends }): Box => {
    const [x1, y1, x2, y2] = ends as [number, number, number, number];
    const [wx, wy] = close(x1, x2) ? [8, -1] : [-1, 8];
    return [Math.min(x1, x2) - wx, Math.min(y1, y2) - wy, Math.max(x1, x2) + wx, Math.max(y1, y2) + wy, part];
  });
  const lines = wires.map(([a, b]): Box => [
    Math.min(a[0], b[0]),
    Math.min(a[1], b[1]),
    Math.max(a[0], b[0]),
    Math.max(a[1], b[1]),
    "wire",
  ]);
  const hit = (a: Box, b: Box): boolean => a[0] < b[2] - 0.01 && b[0] < a[2] - 0.01 && a[1] < b[3] - 0.01 && b[1] < a[3] - 0.01;
  const grown = ([l, t, r, b, w]: Box): Box => [l - 0.5, t - 0.5, r + 0.5, b + 0.5, w];
  const found: string[] = [];
  texts.forEach((a, i) => {
    texts.slice(i + 1).forEach((b) => hit(a, b) && found.push(`${a[4]} over ${b[4]}`));
    bodies.forEach((b) => hit(a, b) && found.push(`${a[4]} over symbol ${b[4]}`));
    lines.forEach((b) => hit(a, grown(b)) && found.push(`${a[4]} over a wire`));
  });
  bodies.forEach((a, i) => {
    bodies.slice(i + 1).forEach((b) => hit(a, b) && found.push(`symbols ${a[4]} and ${b[4]}`));
    lines.forEach((b) => hit(a, grown(b)) && found.push(`a wire through ${a[4]}`));
  });
  return found;
}

/** Crossings without a junction. */
function crossings(svg: string): number {
  const { wires } = readBack(svg);
  return wires
    .filter(([a, b]) => close(a[1], b[1]))
    .reduce(
      (sum, [a, b]) =>
        sum
        + wires.filter(([c, d]) => close(c[0], d[0]) && (a[0] - c[0]) * (b[0] - c[0]) < -1e-6 && (c[1] - a[1]) * (d[1] - a[1]) < -1e-6)
          .length,
      0,
    );
}

const dome = driverImpedance({ re: "5.1 Ω", le: "45 µH", fs: "820 Hz", qms: 2.1, qes: 1.4 });
const ladders: Readonly<Record<string, Entries>> = {
  threeWay: fragment({
    L1: [inductor("3.3 mH"), "in", "w"],
    C1: [capacitor("68 µF"), "w", "gnd"],
    R1: [resistor("5.6 Ω"), "w", "z"],
    C2: [capacitor("33 µF"), "z", "gnd"],
    woofer: [dome, "w", "gnd"],
    C3: [capacitor("47 µF"), "in", "m1"],
    L2: [inductor("0.47 mH"), "m1", "m2"],
    C4: [capacitor("10 µF"), "m2", "gnd"],
    mid: [dome, "gnd", "m2"],
    C5: [capacitor("6.8 µF"), "in", "t1"],
    L3: [inductor("0.33 mH"), "t1", "gnd"],
    R2: [resistor("2.2 Ω"), "t1", "t2"],
    R3: [resistor("10 Ω"), "t2", "gnd"],
    tweeter: [dome, "t2", "gnd"],
  }) as Entries,
  series: fragment({
    woofer: [dome, "in", "x"],
    C1: [capacitor("22 µF"), "in", "x"],
    tweeter: [dome, "x", "gnd"],
    L1: [inductor("0.5 mH"), "x", "gnd"],
  }) as Entries,
  pad: fragment({
    C1: [capacitor("6.8 µF"), "in", "a"],
    P1: [lPad({ attenuationDb: 6, load: 6 }), "a", "t", "gnd"],
    tweeter: [dome, "t", "gnd"],
  }) as Entries,
  coupled: fragment({
    L1: [inductor("1 mH"), "in", "a"],
    L2: [inductor("0.5 mH"), "b", "gnd"],
    C1: [capacitor("10 µF"), "a", "gnd"],
    C2: [capacitor("10 µF"), "in", "b"],
    woofer: [dome, "a", "gnd"],
    tweeter: [dome, "b", "gnd"],
    K1: [coupling(0.1), "L1", "L2"],
  }) as Entries,
  shared: fragment({
    L0: [inductor("1 mH"), "in", "x"],
    R9: [resistor(40), "x", "gnd"],
    R1: [resistor(1), "x", "a"],
    one: [dome, "a", "gnd"],
    R2: [resistor(2), "x", "b"],
    two: [dome, "b", "y"],
    R3: [resistor(3), "y", "gnd"],
    C9: [capacitor("1 µF"), "in", "c"],
    three: [dome, "c", "gnd"],
  }) as Entries,
  one: fragment({ woofer: [dome, "in", "gnd"] }) as Entries,
};
const others: Readonly<Record<string, Entries>> = {
  bridge: fragment({
    R1: [resistor(1), "in", "a"],
    R2: [resistor(2), "in", "b"],
    C1: [capacitor("1 µF"), "a", "b"],
    woofer: [dome, "a", "gnd"],
    tweeter: [dome, "b", "gnd"],
  }) as Entries,
  transformer: fragment({ T1: [transformer({ ratio: 2 }), "in", "gnd", "s", "gnd"], woofer: [dome, "s", "gnd"] }) as Entries,
};

function seeded(seed: number): () => number {
  let state = seed;
  return () => (state = (state * 1103515245 + 12345) % 2147483648) / 2147483648;
}

/** Parts between nodes drawn at random: mostly bridged. */
function randomNetwork(seed: number): Entries {
  const next = seeded(seed);
  const count = 2 + Math.floor(next() * 39);
  const nodes = ["in", "gnd", ...Array.from({ length: 1 + Math.floor(next() * 12) }, (_, k) => `n${k}`)];
  const entries: Record<string, unknown> = { first: [resistor(1), "in", "gnd"] };
  for (let k = 1; k < count; k++) {
    const part = [resistor(next() * 100), inductor(next() / 100), capacitor(1e-7 + next() / 1e4), dome][Math.floor(next() * 4)];
    entries[`${"RLCD"[k % 4]}${k}`] = [part, nodes[Math.floor(next() * nodes.length)], nodes[Math.floor(next() * nodes.length)]];
  }
  return fragment(entries as never);
}

/** Nested chains and groups drawn at random. */
function randomLadder(seed: number): Entries {
  const next = seeded(seed);
  const entries: Record<string, unknown> = {};
  let nodes = 0;
  const grow = (from: string, to: string, size: number): void => {
    const shape = next();
    if (size <= 1) {
      const part = [resistor(next() * 100), inductor(next() / 100), capacitor(1e-7 + next() / 1e4), dome][Math.floor(next() * 4)];
      entries[`P${Object.keys(entries).length}`] = next() < 0.5 ? [part, from, to] : [part, to, from];
      return;
    }
    const head = 1 + Math.floor(next() * (size - 1));
    const middle = shape < 0.5 ? `n${nodes++}` : undefined;
    grow(from, middle ?? to, head);
    grow(middle ?? from, to, size - head);
  };
  grow("in", "gnd", 2 + Math.floor(next() * 39));
  return fragment(entries as never);
}

describe("schematic", () => {
  it.each(Object.entries({ ...ladders, ...others }))(
    "draws %s with the connections of the network and nothing over anything",
    (_, network) => {
      const { svg } = schematic(network, { reused: [Object.keys(network)[0]!], changed: Object.keys(network).slice(1) });
      expect(netsOf(svg)).toEqual(wanted(network));
      expect(overlaps(svg)).toEqual([]);
    },
  );

  it.each(Object.entries(ladders))("draws %s without a crossing", (_, network) => {
    expect(crossings(schematic(network).svg)).toBe(0);
  });

  it.each([
    ["random networks of up to 40 parts", randomNetwork, false],
    ["random ladders of up to 40 parts, which it draws without a crossing", randomLadder, true],
  ] as const)("keeps connections and room in %s", (_, drawn, level) => {
    for (let seed = 1; seed <= 40; seed++) {
      const network = drawn(seed);
      const { svg } = schematic(network);
      expect([seed, netsOf(svg)]).toEqual([seed, wanted(network)]);
      expect([seed, overlaps(svg)]).toEqual([seed, []]);
      if (level) expect([seed, crossings(svg)]).toEqual([seed, 0]);
    }
  });

  it("draws a wide bridge in strips whose flags join, none wider than it may be", () => {
    for (let seed = 1; seed <= 12; seed++) {
      const network = randomNetwork(7000 + seed);
      const whole = schematic(network).svg;
      const { svg } = schematic(network, { largestWidth: 700 });
      const width = Number(/viewBox="0 0 (\d+)/.exec(svg)![1]);
      if (Number(/viewBox="0 0 (\d+)/.exec(whole)![1]) <= 700) expect(svg).toBe(whole);
      else {
        expect(width).toBeLessThanOrEqual(700);
        expect(svg).toContain("Flags of one name are one joint.");
      }
      expect(netsOf(svg), `seed ${seed}`).toEqual(wanted(network));
      expect(overlaps(svg), `seed ${seed}`).toEqual([]);
    }
    const ladder = { L1: [inductor("1 mH"), "in", "w"], R1: [resistor(6), "w", "gnd"] } as unknown as Entries;
    expect(schematic(ladder, { largestWidth: 400 }).svg).toBe(schematic(ladder).svg);
    expect(() => schematic(ladder, { largestWidth: 3 })).toThrowError(expect.objectContaining({ code: "invalid-argument" }));
  });

  it("names the inner nodes beside their wires, in ladders and bridges", () => {
    const named = (network: Entries) =>
      Array.from(schematic(network).svg.matchAll(/font-style="italic"[^>]*>([^<]*)</g), ([, name]) => name!).sort();
    expect(named(ladders["threeWay"]!)).toEqual(["m1", "m2", "t1", "t2", "w", "z"]);
    expect(named(others["bridge"]!)).toEqual(["a", "b"]);
    expect(named(ladders["one"]!)).toEqual([]);
  });

  it("lets symbols of a bridged network share a column where they share no row", () => {
    const widths = Array.from({ length: 10 }, (_, seed) => {
      const network = randomNetwork(seed + 1);
      // A column of its own for each would take some 100 px.
      return [Number(/viewBox="0 0 ([\d.]+)/.exec(schematic(network).svg)![1]), Object.keys(network).length * 100] as const;
    });
    expect(widths.filter(([width, one]) => width < 0.8 * one).length).toBeGreaterThan(3);
  });

  it("marks a reversed driver by the sign at its upper end", () => {
    const signs = (network: Entries): string[] =>
      Array.from(schematic(network).svg.matchAll(/y="([\d.]+)">([+−])</g), ([, y, sign]) => [Number(y), sign] as const)
        .sort((a, b) => a[0] - b[0])
        .map(([, sign]) => sign!);
    expect(signs(fragment({ one: [dome, "in", "gnd"] }) as Entries)).toEqual(["+", "−"]);
    expect(signs(fragment({ one: [dome, "gnd", "in"] }) as Entries)).toEqual(["−", "+"]);
  });

  it("refuses what is no designator of the network, and a fragment that hangs on nothing", () => {
    expect(() => schematic(ladders["one"]!, { changed: ["C9"] })).toThrow(/"changed" must be designators of this network, got "C9"/);
    expect(() => schematic(fragment({ R1: [resistor(1), "a", "gnd"] }) as Entries)).toThrow(/none at "in"/);
  });

  it("refuses more symbols than anybody reads, before they cost seconds or the stack", () => {
    const ladder = (sections: number): Entries =>
      Object.fromEntries(
        Array.from({ length: sections }, (_, k) => [
          [`L${k}`, [inductor(1e-3), k === 0 ? "in" : `n${k - 1}`, `n${k}`]],
          [`C${k}`, [capacitor(1e-6), `n${k}`, "gnd"]],
        ]).flat(),
      ) as unknown as Entries;
    expect(schematic(ladder(400)).svg).toContain("C399");
    expect(() => schematic(ladder(3000))).toThrowError(expect.objectContaining({ code: "too-large" }));
  });

  it("escapes what names contain", () => {
    expect(schematic(fragment({ "<b>": [resistor(1), "in", "gnd"] }) as Entries, { title: "a & b" }).svg).not.toContain("<b>");
  });
});
