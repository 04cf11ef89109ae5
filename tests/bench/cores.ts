// Redesigns over all their topologies, by one worker and by two: of the shipped example, and of a three-way. Wall clock, since that is what two of them are for. Needs a built package
// (`npm run build`).
import { existsSync } from "node:fs";
import { readFile } from "node:fs/promises";
import { availableParallelism, loadavg } from "node:os";
import { resolve } from "node:path";
import { fileURLToPath } from "node:url";
import type { Loudspeaker } from "dividing-network";
import { redesignOnAllCores } from "dividing-network/cores";
import { redesign, type RedesignOptions } from "dividing-network/design";
import { readProject } from "dividing-network/project";
import { threeWay } from "./three-way-loudspeaker";

const example = fileURLToPath(new URL("../../examples/desk-monitor/", import.meta.url));
const script = fileURLToPath(new URL("../../dist/cores/worker.js", import.meta.url));

/** One redesign by this thread, by one worker and by two: a table, and how the seconds of two workers compare. */
async function table(box: Loudspeaker, options: RedesignOptions, most: number): Promise<string[]> {
  const rows: string[] = [];
  const timed = async (what: string, run: () => ReturnType<typeof redesign>) => {
    const [wall, start] = [Date.now(), process.cpuUsage()];
    const { topologies, unfinished, front } = await run();
    const { user, system } = process.cpuUsage(start);
    const seconds = (Date.now() - wall) / 1000;
    rows.push(
      `| ${what} | ${seconds.toFixed(1)} s | ${((user + system) / 1e6).toFixed(1)} s | ${topologies}, ${unfinished} unfinished | ${front.map(({ parts, lossDb }) => `${parts}: ${lossDb.toFixed(3)} dB`).join(", ")} |`,
    );
    return seconds;
  };
  await timed("`redesign`, on this thread", () => redesign(box, options));
  const times: number[] = [];
  for (const workers of [1, 2])
    times.push(
      await timed(`${workers} ${workers === 1 ? "worker" : "workers"}`, () =>
        redesignOnAllCores(box, { ...options, workers, workerScript: script }),
      ),
    );
  return [
    "| | wall clock | processor time | topologies | front, parts and loss |",
    "|---|---|---|---|---|",
    ...rows,
    "",
    `Two workers take ${times[1]!.toFixed(1)} s (bar: < ${most} s), one ${(times[0]! / times[1]!).toFixed(2)}× as long (bar: ≥ 1.7×, on a machine without other work).`,
  ];
}

export async function bench(): Promise<{ name: string; lines: string[] }> {
  const name = "A redesign on all cores";
  if (!existsSync(script)) return { name, lines: ["Not measured: the package wasn't built."] };
  const text = await readFile(resolve(example, "project.json"), "utf8");
  const loaded = await readProject(text, { file: "project.json", readFile: (path) => readFile(resolve(example, path), "utf8") });
  const two = await table(loaded.found, { goal: loaded.goal, ratedImpedance: loaded.project.ratedImpedance, series: "E12" }, 15);
  const places = [{}, { azimuth: 20 }, { azimuth: -20 }];
  const three = await table(
    threeWay(),
    { goal: { band: { from: "200 Hz", to: "16 kHz" }, places }, series: "E12", maxParts: mostParts() },
    60,
  );
  return {
    name,
    lines: [
      `Wall clock, and processor time of all threads; ${availableParallelism()} cores, a load of ${loadavg()[0]!.toFixed(1)} at the end.`,
      "",
      "The example's redesign over all its topologies to E12, up to 8 parts:",
      "",
      ...two,
      "",
      `An invented three-way's, third octaves from 200 Hz to 16 kHz at three places, to E12, up to ${mostParts()} parts:`,
      "",
      ...three,
    ],
  };
}

/** Of the three-way: `PARTS=5 npm run bench cores` tries the script quickly. */
function mostParts(): number {
  return Number(process.env["PARTS"] ?? 8);
}
