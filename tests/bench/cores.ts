// A redesign of the shipped example over all its topologies, by one worker and by two: wall clock, since that is what two of them are for. Needs a built package (`npm run build`).
import { existsSync } from "node:fs";
import { readFile } from "node:fs/promises";
import { availableParallelism, loadavg } from "node:os";
import { resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { redesignOnAllCores } from "dividing-network/cores";
import { redesign } from "dividing-network/design";
import { readProject } from "dividing-network/project";

const example = fileURLToPath(new URL("../../examples/desk-monitor/", import.meta.url));
const script = fileURLToPath(new URL("../../dist/cores/worker.js", import.meta.url));

export async function bench(): Promise<{ name: string; lines: string[] }> {
  const name = "A redesign on all cores";
  if (!existsSync(script)) return { name, lines: ["Not measured: the package wasn't built."] };
  const text = await readFile(resolve(example, "project.json"), "utf8");
  const loaded = await readProject(text, { file: "project.json", readFile: (path) => readFile(resolve(example, path), "utf8") });
  const options = { goal: loaded.goal, ratedImpedance: loaded.project.ratedImpedance, series: "E12" } as const;
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
  await timed("`redesign`, on this thread", () => redesign(loaded.found, options));
  const times: number[] = [];
  for (const workers of [1, 2])
    times.push(
      await timed(`${workers} ${workers === 1 ? "worker" : "workers"}`, () =>
        redesignOnAllCores(loaded.found, { ...options, workers, workerScript: script }),
      ),
    );
  return {
    name,
    lines: [
      `The example's redesign over all its topologies to E12, up to 8 parts. Wall clock, and processor time of all threads; ${availableParallelism()} cores, a load of ${loadavg()[0]!.toFixed(1)} at the end.`,
      "",
      "| | wall clock | processor time | topologies | front, parts and loss |",
      "|---|---|---|---|---|",
      ...rows,
      "",
      `Two workers against one: ${(times[0]! / times[1]!).toFixed(2)}× (bar: ≥ 1.7×, on a machine without other work).`,
    ],
  };
}
