// The main job: reads a project and its measured files, judges the network as found against the one proposed, prints the
// findings and writes them as one page.
//   npm run demo                                              the invented desk monitor beside this file
//   npm run demo -- path/to/project.json --out report.html    your own
import { readFile, rename, rm, writeFile } from "node:fs/promises";
import { basename, dirname, resolve } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { parseArgs } from "node:util";
import { DividingNetworkError } from "dividing-network";
import { assess, checkModel, compare } from "dividing-network/assessment";
import { readProject } from "dividing-network/project";
import { comparisonPage, comparisonText } from "dividing-network/report";

async function main(): Promise<void> {
  const { values, positionals } = parseArgs({ allowPositionals: true, options: { out: { type: "string", default: "report.html" } } });
  if (positionals.length > 1) throw new Error(`one project file at a time, got ${positionals.join(", ")}`);
  const file = resolve(positionals[0] ?? fileURLToPath(new URL("desk-monitor/project.json", import.meta.url)));
  const out = resolve(values.out);

  const text = await readFile(file, "utf8");
  const loaded = await readProject(text, { file: basename(file), readFile: (path) => readFile(resolve(dirname(file), path), "utf8") });
  const { project, found, proposed, measured, files, notes } = loaded;
  console.log(project.name);
  if (project.description !== undefined) console.log(`${project.description}\n`);
  console.log(`Read ${files.length} measured files, ${files.reduce((sum, { points }) => sum + points, 0)} points.`);
  for (const { message } of notes) console.log(`Note: ${message}`);

  const { ratedImpedance, assessment = {} } = project;
  const options = { ratedImpedance, ...(assessment.band === undefined ? {} : { band: assessment.band }) };
  const whole = measured.pressures.length > 0 || measured.impedance !== undefined;
  if (whole) console.log("Checking the model against the loudspeaker as found …");
  const model = whole ? checkModel(found, measured) : undefined;
  console.log("Judging the network as found and the one proposed …\n");
  const comparison = compare(assess(found, options), assess(proposed, options), {
    ...(model === undefined ? {} : { model }),
    ...(assessment.listenerAngles === undefined ? {} : { listenerAngle: assessment.listenerAngles }),
  });
  console.log(comparisonText(comparison, { width: Math.max(80, Math.min(process.stdout.columns ?? 120, 160)) }));

  const page = comparisonPage(comparison, {
    title: `${project.name}: as found and proposed`,
    ...(project.description === undefined ? {} : { description: project.description }),
    generatedFrom: `${basename(file)} and ${files.length} measured files`,
  });
  // Whole or not at all: nobody finds half a page.
  const half = `${out}.part`;
  try {
    await writeFile(half, page);
    await rename(half, out);
  } catch (error) {
    await rm(half, { force: true });
    throw error;
  }
  console.log(`The page is at ${out}`);
  console.log(`Open it: ${pathToFileURL(out).href}`);
}

try {
  await main();
} catch (error) {
  const message = error instanceof DividingNetworkError || (error instanceof Error && "code" in error) || error instanceof TypeError === false ? (error as Error).message : undefined;
  if (message === undefined) throw error;
  console.error(message);
  process.exitCode = 1;
}
