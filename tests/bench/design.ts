// The best network from a drawer: a seven-part two-way from E12 values, three places, both polarities, against looking at every network by itself.
import { logGrid, predict, preferredValues } from "dividing-network";
import { lossOf } from "dividing-network/assessment";
import { chooseValues, redesign } from "dividing-network/design";
import { drawn, monitor } from "../support/two-way";

const frequencies = logGrid(400, 12_000, 24);
const goal = { frequencies, places: [{}, { azimuth: 20 }, { azimuth: -20 }], limits: "stated" as const };

/** Values of a series between two, both included. */
function between(from: number, to: number, series: "E3" | "E6" | "E12" = "E12"): number[] {
  const all = Array.from({ length: 12 }, (_, decade) => preferredValues(series).map((value) => value * 10 ** (decade - 7))).flat();
  return all.filter((value) => value >= from * 0.999 && value <= to * 1.001);
}

/** Seconds of processor time of this process, which other programs on the machine do not lengthen much. */
async function seconds(call: () => unknown): Promise<number> {
  const start = process.cpuUsage();
  await call();
  const { user, system } = process.cpuUsage(start);
  return (user + system) / 1e6;
}

export async function bench(): Promise<{ name: string; lines: string[] }> {
  const box = monitor(drawn);
  const valuesOf = (series: "E3" | "E6" | "E12") => ({
    L1: between(0.22e-3, 2.2e-3, series),
    R1: between(2.2, 22, series),
    C1: between(2.2e-6, 47e-6, series),
    R2: between(1, 10, series),
    C2: between(2.2e-6, 22e-6, series),
    L2: between(0.1e-3, 1e-3, series),
    R3: between(4.7, 47, series),
  });
  const values = valuesOf("E12");
  const rows: string[] = [];
  const [times, predictions] = [300, 300];
  lossOf(box, goal);
  const each =
    (await seconds(() => {
      for (let i = 0; i < times; i++) lossOf({ ...box, network: { ...drawn } }, goal);
    })) / times;
  const heard =
    (await seconds(() => {
      for (let i = 0; i < predictions; i++) predict({ ...box, network: { ...drawn } }, { frequencies });
    })) / predictions;
  for (const [title, source, amplifier] of [
    ["no limit", undefined, {}],
    ["\\|Z\\| at least 4.8 Ω", undefined, { smallestImpedance: 4.8 }],
    ["0.3 Ω of source", 0.3, {}],
  ] as const) {
    const loudspeaker = monitor(drawn, source);
    let found: Awaited<ReturnType<typeof chooseValues>> | undefined;
    const taken = await seconds(async () => {
      found = await chooseValues(loudspeaker, { goal: { ...goal, amplifier }, values, polarity: { tweeter: "either" } } as never);
    });
    const { networks, evaluated, lossDb, proven } = found!;
    rows.push(
      `| ${title} | ${taken.toFixed(1)} s | ${evaluated} | ${lossDb.toFixed(3)} dB, ${proven ? "proven" : "not proven"} | ${(networks / taken).toExponential(1)} | ${((networks * each) / taken).toExponential(1)} |`,
    );
  }
  const networks = Object.values(values).reduce((product, { length }) => product * length, 2);
  const growth: string[] = [];
  for (const series of ["E3", "E6", "E12"] as const) {
    const own = valuesOf(series);
    const states = [
      ["L1", "R1", "C1"],
      ["R2", "C2", "L2", "R3"],
    ].map((names) => names.reduce((product, name) => product * own[name as keyof typeof own].length, 1));
    let found: Awaited<ReturnType<typeof chooseValues>> | undefined;
    // Of each state: a table's complex numbers, and a node's centres and radii.
    const most = (states[0]! + states[1]!) * frequencies.length * (2 + 3) * 8;
    const taken = await seconds(async () => {
      found = await chooseValues(box, { goal, values: own, polarity: { tweeter: "either" } } as never);
    });
    growth.push(
      `| ${series} | ${states[0]} + ${states[1]} | ${found!.networks.toExponential(1)} | ${taken.toFixed(2)} s | ${(most / 2 ** 20).toFixed(1)} MiB | ${found!.evaluated} |`,
    );
  }
  const designed: string[] = [];
  let last: Awaited<ReturnType<typeof redesign>> | undefined;
  const spent = await seconds(async () => {
    last = await redesign(box, { goal: { frequencies, limits: "stated", amplifier: { smallestImpedance: 4 }, largestLevelLossDb: 3 } });
  });
  designed.push(
    `\`redesign\` of the same drivers over E12, one place, up to 8 parts: ${last!.topologies} drawings in ${spent.toFixed(1)} s of processor time, ${last!.unfinished} left unfinished; ${last!.front.map(({ parts, lossDb }) => `${parts} parts ${lossDb.toFixed(3)} dB`).join(", ")}.`,
  );
  return {
    name: "The best network from a drawer",
    lines: [
      `\`chooseValues\`: seven parts of a two-way from E12 values, the tweeter's polarity either, ${networks.toExponential(2)} networks; 24 frequencies, the axis and ±20°. Processor time, tables and trees included.`,
      "",
      "| | time | pairs looked at | best | networks settled per second | × looking at each by `lossOf` |",
      "|---|---|---|---|---|---|",
      ...rows,
      "",
      `One network by itself takes ${(1e3 * each).toFixed(2)} ms by \`lossOf\` (\`predict\` alone ${(1e3 * heard).toFixed(2)} ms); all of them would take ${((networks * each) / 3600).toFixed(0)} hours.`,
      "",
      "How time and memory grow with the states of the two branches (no limit; memory is that of tables and whole trees, counted and not measured):",
      "",
      "| series | states | networks | time | memory | pairs looked at |",
      "|---|---|---|---|---|---|",
      ...growth,
      "",
      ...designed,
    ],
  };
}
