// What tolerances do to the sound: 10,000 loudspeakers of the example at nine places, against 10,000 sweeps of its network.
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { compile, type Entries } from "dividing-network";
import { spread } from "dividing-network/assessment";
import { readProject } from "dividing-network/project";

const folder = fileURLToPath(new URL("../../examples/desk-monitor/", import.meta.url));
const SAMPLES = 10_000;

/** Seconds of processor time of this process, which other programs on the machine do not lengthen much. */
function seconds(call: () => unknown): number {
  const start = process.cpuUsage();
  call();
  const { user, system } = process.cpuUsage(start);
  return (user + system) / 1e6;
}

export async function bench(): Promise<{ name: string; lines: string[] }> {
  const { proposed, found } = await readProject(readFileSync(`${folder}project.json`, "utf8"), {
    readFile: async (path: string) => Promise.resolve(readFileSync(`${folder}${path}`, "utf8")),
  });
  const places = [
    [-30, 0],
    [-20, 0],
    [-10, 0],
    [0, 0],
    [10, 0],
    [20, 0],
    [30, 0],
    [0, 10],
    [0, -10],
  ].map(([azimuth, elevation]) => ({ azimuth: azimuth!, elevation: elevation! }));
  const options = { goal: { band: { from: 300, to: 10_000 }, places }, ratedImpedance: 4, found };
  const { frequencies } = spread(proposed, { ...options, samples: 100 });
  const compiled = compile<Entries>(proposed.network);
  const sweeps = () => {
    for (let i = 0; i < SAMPLES; i++) {
      const sweep = compiled.sweep(frequencies, { values: { C1: 0.68e-6 * (1 + 1e-6 * i) } });
      for (const { part } of proposed.drivers) sweep.voltage(part);
    }
  };
  const rounds = Array.from({ length: 3 }, () => {
    const one = seconds(sweeps);
    const all = seconds(() => spread(proposed, { ...options, samples: SAMPLES }));
    return { one, all, ratio: all / one };
  }).sort((a, b) => a.ratio - b.ratio);
  const { one, all, ratio } = rounds[1]!;
  return {
    name: "What tolerances do to the sound",
    lines: [
      `\`spread\` of the example's proposal, ${SAMPLES} loudspeakers at nine places with limits, and five times 1000 with one thing exact, 15 things that scatter: ${all.toFixed(2)} s of processor time.`,
      `${SAMPLES} sweeps of its network on the same ${frequencies.length} frequencies, both drivers' voltages: ${one.toFixed(2)} s. Ratio: ${ratio.toFixed(1)}.`,
    ],
  };
}
