// The program of the package, `npx dividing-network project.json`: reads a project and its measured files, judges the network as found
// against the one proposed, prints the findings and writes them as one page. It and the files that bear its name are the only ones of
// src/ that know Node: the library knows no files. In a clone it is `npm run demo`.
import { readFile } from "node:fs/promises";
import { basename, dirname, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { assess, compare, comparePair, spread, type Comparison, type PairComparison, type Spread } from "./assessment";
import { checkOut, copyExample, projectText, writeWhole } from "./command-line-files";
import { redesigned } from "./command-line-redesign";
import { HELP, taskOf, type RedesignTask } from "./command-line-task";
import { codeOf, Complaint } from "./command-line-words";
import { DividingNetworkError } from "./errors";
import type { Loudspeaker } from "./loudspeaker";
import { readProject, type LoadedProject } from "./project";
import { comparisonPage, comparisonText } from "./report";

async function judge(file: string, out: string, task: RedesignTask | undefined): Promise<void> {
  const text = await projectText(file);
  const loaded = await readProject(text, { file: basename(file), readFile: (path) => readFile(resolve(dirname(file), path), "utf8") });
  const { project, files, notes } = loaded;
  await checkOut(out, [file, ...files.map(({ path }) => resolve(dirname(file), path))]);

  console.log(project.name);
  if (project.description !== undefined) console.log(`${project.description}\n`);
  console.log(`Read ${files.length} measured files, ${files.reduce((sum, { points }) => sum + points, 0)} points.`);
  for (const { file: of, message, hint } of notes)
    console.log(`Note: ${of === undefined ? "" : `${of}: `}${message}${hint === "" ? "" : `. ${hint}`}`);
  const width = Math.max(80, Math.min(process.stdout.columns ?? 120, 160));
  const designed = task === undefined ? undefined : await redesigned(loaded, task, width);
  const network = designed?.network;
  const whole = loaded.measured.pressures.length > 0 || loaded.measured.impedance !== undefined;
  console.log(
    `${whole ? "Checking the model against the loudspeaker as found, and judging" : "Judging"} the network as found and the one proposed …\n`,
  );
  const designedBox = network === undefined ? undefined : { ...loaded.found, network };
  const comparison = comparisonOf(loaded, designedBox ?? loaded.proposed);
  const beside = loaded.alternative ?? (designedBox === undefined ? undefined : { name: "the file's", loudspeaker: loaded.proposed });
  const third = beside === undefined ? undefined : { name: beside.name, comparison: comparisonOf(loaded, beside.loudspeaker) };
  const pair = pairOf(loaded);
  console.log(comparisonText(comparison, { pair, width, stock: loaded.stock, alternative: third }));

  const refuted = comparison.verdict.trust.state === "refuted";
  if (refuted) console.log("\nWhat tolerances do isn't said: the drawing is refuted.\n");
  const tolerances = refuted ? undefined : spreadOf(loaded, designedBox);
  if (tolerances !== undefined)
    console.log(`\nFrom one loudspeaker to the next:\n${tolerances.sentences.map((sentence) => `  ${sentence}`).join("\n")}\n`);

  const page = comparisonPage(comparison, {
    title: `${project.name}: as found and proposed`,
    ...(project.description === undefined ? {} : { description: project.description }),
    generatedFrom: `${basename(file)} and ${files.length} measured files`,
    pair,
    spread: tolerances,
    stock: loaded.stock,
    proof:
      designed === undefined ? undefined : [designed.proof, ...(designed.robust === undefined ? [] : [designed.robust.says])].join(". "),
    // Windings are those of the proposal in the file, and say nothing of a network that was designed.
    ...(project.coils === undefined || network !== undefined ? {} : { build: { coils: project.coils } }),
    ...(third === undefined ? {} : { alternative: third }),
  });
  await writeWhole(out, page);
  console.log(`The page is at ${out}`);
  console.log(`Open it: ${pathToFileURL(out).href}`);
}

/** The judgement itself: the drawing against the loudspeaker as measured, where it was, then the one network against the other. */
function comparisonOf({ project: { ratedImpedance }, found, measured, goal }: LoadedProject, proposed: Loudspeaker): Comparison {
  const whole = measured.pressures.length > 0 || measured.impedance !== undefined;
  return compare(assess(found, { ratedImpedance, goal }), assess(proposed, { ratedImpedance, goal }), whole ? { measured } : {});
}

/** Left against right as found, where the other one was measured; held against the drawing where every driver alone was measured in the same places. */
function pairOf({ pair, found }: LoadedProject): PairComparison | undefined {
  if (pair === undefined) return undefined;
  const { left, right, mirrored } = pair;
  try {
    return comparePair(left, right, { mirrored, drawing: found });
  } catch (error) {
    if (!(error instanceof DividingNetworkError) || error.code !== "not-measured") throw error;
    return comparePair(left, right, { mirrored });
  }
}

/** What tolerances do to the proposal; where that can't be said, it is said why. */
function spreadOf({ project, found, proposed, robust }: LoadedProject, designed: Loudspeaker | undefined): Spread | undefined {
  // A designed network's parts bear names of their own: lots and pairs of the project's parts aren't theirs.
  const named = new Set(found.drivers.map(({ name }) => name));
  const own = {
    ...project.spread,
    ...(robust.drivers === undefined ? {} : { drivers: robust.drivers }),
    lots: robust.lots,
    matched: project.spread?.matched?.filter((name) => named.has(name)),
    largestLossDb: robust.largestLossDb ?? project.spread?.largestLossDb,
  };
  try {
    return spread(designed ?? proposed, {
      ...(designed === undefined ? project.spread : own),
      goal: project.goal,
      ratedImpedance: project.ratedImpedance,
      found,
    });
  } catch (error) {
    if (!(error instanceof DividingNetworkError)) throw error;
    console.log(`What tolerances do can't be said: ${error.message}`);
    return undefined;
  }
}

async function version(): Promise<string> {
  const manifest = JSON.parse(await readFile(new URL("../package.json", import.meta.url), "utf8")) as { readonly version: string };
  return manifest.version;
}

// Whoever reads only the first lines (`| head`) still gets the page.
process.stdout.on("error", (error) => {
  if (codeOf(error) !== "EPIPE") throw error;
});

try {
  const task = taskOf(process.argv.slice(2));
  if (task.kind === "judge") await judge(task.file, task.out, task.redesign);
  else if (task.kind === "example") await copyExample(task.folder);
  else console.log(task.kind === "help" ? HELP : await version());
} catch (error) {
  // Anything else is a mistake of the program, and whoever mends it needs the stack.
  if (!(error instanceof Complaint || error instanceof DividingNetworkError)) throw error;
  console.error(error.message);
  process.exitCode = 1;
}
