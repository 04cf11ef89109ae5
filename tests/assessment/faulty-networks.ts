// Seeded networks with one fault built in, measured with noise: what the search for suspects is tried on. Drivers, values and faults are
// invented; the "measurement" is made by the solver from the faulty network, so that only the fault is unknown.
import {
  capacitor,
  coupling,
  driverImpedance,
  frequencyResponse,
  inductor,
  logGrid,
  loudspeaker,
  lPad,
  network,
  pressurePerVolt,
  resistor,
  responseOf,
  solve,
  type Entries,
  type FrequencyResponse,
  type Loudspeaker,
} from "dividing-network";
import { butterworth, highPass, lowPass } from "dividing-network/alignments";
import { addResponses, multiplyResponses, scaleResponse } from "dividing-network/response";

/** A small generator of its own: the cases must be the same for ever. */
export function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
  };
}

const GRID = logGrid(30, 18_000, 280);

export interface Case {
  readonly drawn: Loudspeaker;
  readonly measured: {
    readonly pressures: readonly { distance: number; azimuth: number; elevation: number; response: FrequencyResponse; voltage: number }[];
    readonly impedance: FrequencyResponse;
  };
  readonly truth: { readonly parts: readonly string[]; readonly fault: string; readonly value?: number };
}

type Entry = readonly [Entries[string][0], ...string[]];

function drawing(random: () => number): { readonly entries: Record<string, Entry>; readonly drivers: readonly string[] } {
  const between = (low: number, high: number) => low * (high / low) ** random();
  const woofer = driverImpedance({
    re: between(3, 7),
    le: between(0.2e-3, 0.8e-3),
    fs: between(35, 80),
    qms: between(2, 6),
    qes: between(0.4, 0.9),
  });
  const tweeter = driverImpedance({
    re: between(3, 7),
    le: between(20e-6, 60e-6),
    fs: between(500, 1200),
    qms: between(1, 3),
    qes: between(0.8, 2),
  });
  const entries: Record<string, Entry> = {
    L1: [inductor(between(0.3e-3, 1.5e-3), { dcr: between(0.1, 0.5) }), "in", "w"],
    woofer: [woofer, "w", "gnd"],
    C2: [capacitor(between(3e-6, 15e-6), { esr: between(0.01, 0.3) }), "in", "a"],
  };
  if (random() < 0.6) entries["C1"] = [capacitor(between(5e-6, 30e-6), { esr: 0.05 }), "w", "gnd"];
  if (random() < 0.5) {
    entries["R1"] = [resistor(between(3, 10)), "w", "z"];
    entries["C4"] = [capacitor(between(5e-6, 40e-6)), "z", "gnd"];
  }
  entries["L2"] = [inductor(between(0.15e-3, 0.6e-3), { dcr: between(0.1, 0.4) }), "a", "gnd"];
  let node = "a";
  if (random() < 0.4) {
    entries["C3"] = [capacitor(between(8e-6, 40e-6)), "a", "b"];
    node = "b";
  }
  if (random() < 0.3) entries["P1"] = [lPad({ attenuationDb: 2 + 4 * random(), load: 6 }), node, "t", "gnd"];
  else if (random() < 0.7) {
    entries["R2"] = [resistor(between(1, 4)), node, "t"];
    if (random() < 0.5) entries["R3"] = [resistor(between(8, 22)), "t", "gnd"];
  } else entries["R2"] = [resistor(between(1, 4)), node, "t"];
  entries["tweeter"] = [tweeter, "t", "gnd"];
  if (random() < 0.2) entries["K1"] = [coupling(0.05 + 0.2 * random()), "L1", "L2"];
  return { entries, drivers: ["woofer", "tweeter"] };
}

/** A network as built: the drawing with one fault. */
function spoil(
  random: () => number,
  entries: Record<string, Entry>,
): { readonly entries: Record<string, Entry>; readonly truth: Case["truth"]; readonly reversed?: string } | undefined {
  const names = Object.keys(entries).filter((name) => !["coupling", "l-pad"].includes(entries[name]![0].kind));
  const name = names[Math.floor(random() * names.length)]!;
  const [part, from, to] = entries[name]! as readonly [Entries[string][0], string, string];
  const built: Record<string, Entry> = { ...entries };
  const kind = ["open", "short", "value", "loss", "exchanged", "reversed"][Math.floor(random() * 6)]!;
  if (kind === "open") built[name] = [part, from, `${name}-broken`];
  if (kind === "open") built[`${name}-leak`] = [resistor(1e9), `${name}-broken`, to];
  if (kind === "short") built[`${name}-bridge`] = [resistor(1e-4), from, to];
  if (kind === "value") {
    const ratio = random() < 0.5 ? 1.3 + 2 * random() : 1 / (1.3 + 2 * random());
    if (part.kind === "resistor") built[name] = [resistor(part.resistance * ratio), from, to];
    else if (part.kind === "inductor") built[name] = [inductor(part.inductance * ratio, { dcr: part.dcr }), from, to];
    else if (part.kind === "capacitor") built[name] = [capacitor(part.capacitance * ratio, { esr: part.esr }), from, to];
    else return undefined;
    const value = part.kind === "resistor" ? part.resistance : part.kind === "inductor" ? part.inductance : part.capacitance;
    return { entries: built, truth: { parts: [name], fault: kind, value: value * ratio } };
  }
  if (kind === "loss") {
    if (part.kind === "resistor") return undefined;
    const ohms = 0.8 + 8 * random();
    built[name] = [part, from, `${name}-corroded`];
    built[`${name}-ohms`] = [resistor(ohms), `${name}-corroded`, to];
    return { entries: built, truth: { parts: [name], fault: kind, value: ohms } };
  }
  if (kind === "exchanged") {
    const other = names.find((each) => each > name && entries[each]![0].kind === part.kind && part.kind !== "driver");
    if (other === undefined) return undefined;
    const size = (each: Entry[0]) =>
      each.kind === "resistor"
        ? each.resistance
        : each.kind === "inductor"
          ? each.inductance
          : each.kind === "capacitor"
            ? each.capacitance
            : 0;
    if (Math.abs(Math.log(size(part) / size(entries[other]![0]))) < 0.3) return undefined;
    const [mate, a, b] = entries[other]! as readonly [Entries[string][0], string, string];
    built[name] = [mate, from, to];
    built[other] = [part, a, b];
    return { entries: built, truth: { parts: [name, other], fault: kind } };
  }
  if (kind === "reversed") {
    if (part.kind !== "driver") return undefined;
    built[name] = [part, to, from];
    return { entries: built, truth: { parts: [name], fault: kind } };
  }
  return { entries: built, truth: { parts: [name], fault: kind } };
}

export function faultyCase(seed: number, noise = 0.01): Case | undefined {
  const random = seeded(seed);
  const { entries, drivers } = drawing(random);
  const spoiled = spoil(random, entries);
  if (spoiled === undefined) return undefined;
  const flights = { woofer: 0.0001, tweeter: 0 } as const;
  const shape = { woofer: lowPass(butterworth(2), 4500), tweeter: highPass(butterworth(2), 900) } as const;
  const gauss = () => Math.sqrt(-2 * Math.log(random() + 1e-12)) * Math.cos(2 * Math.PI * random());
  const places = [0, 20, -20].map((azimuth) => ({ distance: 1, azimuth, elevation: 0 }));
  const pressure = (driver: keyof typeof shape, azimuth: number) => {
    const base = responseOf(shape[driver], GRID);
    const late = flights[driver] + (driver === "woofer" ? 1e-6 * azimuth : 0);
    return scaleResponse(
      frequencyResponse(
        GRID,
        base.re.map((re, i) => turn(re, base.im[i]!, GRID[i]!, late)[0]),
        base.im.map((im, i) => turn(base.re[i]!, im, GRID[i]!, late)[1]),
      ),
      0.3,
    );
  };
  const drawn = loudspeaker({
    network: network(entries as never) as unknown as Entries,
    drivers: drivers.map((name) => ({
      name,
      pressures: places.map(({ azimuth }) =>
        pressurePerVolt({
          response: pressure(name as "woofer", azimuth),
          drive: { voltage: 1, at: "terminals" },
          distance: 1,
          azimuth,
          timeZero: "common",
        }),
      ),
    })),
  });
  const sweep = solve(network(spoiled.entries as never) as never, GRID) as {
    voltage(name: string): FrequencyResponse;
    readonly impedance: FrequencyResponse;
  };
  const noisy = ({ frequencies, re, im }: FrequencyResponse) => {
    const [x, y] = [re.slice(), im.slice()];
    for (let i = 0; i < x.length; i++) {
      const [gr, gi] = [1 + noise * gauss(), noise * gauss()];
      [x[i], y[i]] = [re[i]! * gr - im[i]! * gi, re[i]! * gi + im[i]! * gr];
    }
    return frequencyResponse(frequencies, x, y);
  };
  return {
    drawn,
    measured: {
      pressures: places.map((place) => ({
        ...place,
        voltage: 2.83,
        response: noisy(
          scaleResponse(
            addResponses(...drivers.map((name) => multiplyResponses(pressure(name as "woofer", place.azimuth), sweep.voltage(name)))),
            2.83,
          ),
        ),
      })),
      impedance: noisy(sweep.impedance),
    },
    truth: spoiled.truth,
  };
}

function turn(re: number, im: number, frequency: number, delay: number): readonly [number, number] {
  const angle = -2 * Math.PI * frequency * delay;
  return [re * Math.cos(angle) - im * Math.sin(angle), re * Math.sin(angle) + im * Math.cos(angle)];
}
