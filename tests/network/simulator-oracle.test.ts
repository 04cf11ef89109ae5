// The solver against an independent general circuit simulator: eecircuit-engine, a SPICE-class engine in WebAssembly, by
// netlist text and AC analysis at 3 points per decade from 10 Hz to 100 kHz. The netlist is written from the numbers with
// all their digits, and the library is asked at the very frequencies that the engine reports.
//
// Which of the two is coarser: the engine. Where the two differ most (by 7e-10 of a voltage, at 10 Hz), a solution of 50 digits
// agrees with the library to 1e-16 and misses the engine by the whole difference; the last test below repeats that. The
// engine's own precision is thus finer than 1e-6 relative on these networks, and 1e-6 is the bar, of each node's voltage and of
// the source's current. A voltage that is exactly zero has no relative error: 1e-12 of the network's largest voltage is let pass.
import { Simulation } from "eecircuit-engine";
import { solve, type Entries } from "dividing-network/network";
import { beforeAll, describe, expect, it } from "vitest";
import { errorOf, solvePrecisely } from "../support/precise";
import { nodesOf, randomNetwork, seeded } from "../support/random-network";

const simulation = new Simulation();

beforeAll(() => simulation.start(), 120_000);

interface Simulated {
  readonly frequencies: Float64Array;
  /** Node voltage, or minus the source's current under the name "source current", of one network. */
  response(network: number, name: string): { readonly re: Float64Array; readonly im: Float64Array };
}

/** Runs many networks in one netlist: each has its own source and node names. */
async function simulate(networks: readonly Entries[]): Promise<Simulated> {
  const lines = networks.flatMap((entries, index) => netlist(entries, index));
  simulation.setNetList(["networks", ...lines, ".options noopac", ".ac dec 3 10 100k", ".end", ""].join("\n"));
  const result = await simulation.runSim();
  if (result.dataType !== "complex") throw new Error(simulation.getError().join("\n"));
  const columns = new Map(result.data.map(({ name, values }) => [name.toLowerCase(), values]));
  return {
    frequencies: Float64Array.from(columns.get("frequency")!, ({ real }) => real),
    response(network, name) {
      const current = name === "source current";
      const values = columns.get((current ? `i(v${network})` : `v(${nodeName(network, name)})`).toLowerCase())!;
      const sign = current ? -1 : 1;
      return { re: Float64Array.from(values, ({ real }) => sign * real), im: Float64Array.from(values, ({ img }) => sign * img) };
    },
  };
}

function nodeName(network: number, node: string): string {
  return node === "gnd" ? "0" : `x${network}_${node}`;
}

function netlist(entries: Entries, network: number): string[] {
  const lines = [`V${network} ${nodeName(network, "in")} 0 DC 0 AC 1`];
  for (const [name, [part, first, second]] of Object.entries(entries)) {
    const own = `${network}_${name}`;
    const [from, to] = [nodeName(network, first), nodeName(network, second)];
    const lossy = (letter: string, value: number, loss: number) =>
      loss === 0
        ? [`${letter}${own} ${from} ${to} ${value}`]
        : [`${letter}${own} ${from} y${own} ${value}`, `R${own} y${own} ${to} ${loss}`];
    if (part.kind === "resistor") lines.push(`R${own} ${from} ${to} ${part.resistance}`);
    else if (part.kind === "inductor") lines.push(...lossy("L", part.inductance, part.dcr));
    else if (part.kind === "capacitor") lines.push(...lossy("C", part.capacitance, part.esr));
    else if (part.kind === "coupling") lines.push(`K${own} L${network}_${first} L${network}_${second} ${part.k}`);
    else throw new Error(`no netlist for ${part.kind}`);
  }
  return lines;
}

interface Misses {
  /** Points beyond the bar, in words. */
  readonly beyond: string[];
  compared: number;
}

function compare(networks: readonly Entries[], simulated: Simulated, first: number, misses: Misses): void {
  networks.forEach((entries, index) => {
    const sweep = solve(entries, simulated.frequencies);
    const names = nodesOf(entries);
    const found = names.map((name) => sweep.voltage(name));
    const largest = simulated.frequencies.map((_, point) => Math.max(...found.map(({ re, im }) => Math.hypot(re[point]!, im[point]!))));
    [...names, "source current"].forEach((name, at) => {
      const ours = found[at] ?? sweep.sourceCurrent;
      const theirs = simulated.response(index, name);
      for (let point = 0; point < largest.length; point++) {
        const miss = Math.hypot(ours.re[point]! - theirs.re[point]!, ours.im[point]! - theirs.im[point]!);
        const size = Math.hypot(ours.re[point]!, ours.im[point]!);
        misses.compared++;
        if (!(miss <= 1e-6 * size + (at < names.length ? 1e-12 * largest[point]! : 0)))
          misses.beyond.push(`seed ${first + index}, ${name}, ${simulated.frequencies[point]} Hz: ${miss / size}`);
      }
    });
  });
}

async function compareAll(count: number, make: (seed: number) => Entries): Promise<Misses> {
  const misses: Misses = { beyond: [], compared: 0 };
  const batch = 25;
  for (let first = 1; first <= count; first += batch) {
    const networks = Array.from({ length: batch }, (_, index) => make(first + index));
    compare(networks, await simulate(networks), first, misses);
  }
  return misses;
}

/** 2 to 12 nodes with `gnd`; values over three decades around those of a loudspeaker's network, every coil and capacitor lossy. */
function plain(seed: number): Entries {
  const random = seeded(seed);
  return randomNetwork(random, { nodes: 1 + Math.floor(random() * 11) });
}

/** The same with two to four coils coupled to each other, |k| up to 0.9. */
function coupled(seed: number): Entries {
  const random = seeded(10_000 + seed);
  return randomNetwork(random, { nodes: 1 + Math.floor(random() * 11), couplings: 1 + Math.floor(random() * 3) });
}

describe("the solver and a general circuit simulator", () => {
  it("agree on 250 random networks of resistors, coils and capacitors", async () => {
    const { beyond, compared } = await compareAll(250, plain);
    expect(beyond).toEqual([]);
    expect(compared).toBeGreaterThan(20_000);
  });

  it("agree on 250 random networks with coupled coils", async () => {
    const { beyond, compared } = await compareAll(250, coupled);
    expect(beyond).toEqual([]);
    expect(compared).toBeGreaterThan(20_000);
  });

  it("differ by the simulator's own rounding: the 50-digit solution sides with the solver", async () => {
    const networks = Array.from({ length: 24 }, (_, index) => (index % 2 === 0 ? plain : coupled)(index + 1));
    const simulated = await simulate(networks);
    let [ours, theirs] = [0, 0];
    networks.forEach((entries, index) => {
      const sweep = solve(entries, simulated.frequencies);
      const point = (index * 5) % simulated.frequencies.length;
      const exact = solvePrecisely(entries, simulated.frequencies[point]!);
      const largest = Math.max(
        ...nodesOf(entries).map((node) => Math.hypot(exact.voltage(node)[0].toNumber(), exact.voltage(node)[1].toNumber())),
      );
      for (const node of nodesOf(entries)) {
        const own = sweep.voltage(node);
        const other = simulated.response(index, node);
        ours = Math.max(ours, errorOf(own.re[point]!, own.im[point]!, exact.voltage(node), largest));
        theirs = Math.max(theirs, errorOf(other.re[point]!, other.im[point]!, exact.voltage(node), largest));
      }
    });
    expect(ours).toBeLessThan(1e-13);
    expect(theirs).toBeLessThan(1e-8);
    expect(ours).toBeLessThan(theirs);
  });
});
