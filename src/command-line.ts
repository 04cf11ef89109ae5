// The program of the package, `npx dividing-network project.json`: reads a project and its measured files, judges the network as found
// against the one proposed, prints the findings and writes them as one page. The only file of src/ that knows Node: the library knows no
// files. In a clone it is `npm run demo`.
import { cp, mkdir, readdir, readFile, rename, rm, stat, writeFile } from "node:fs/promises";
import { availableParallelism } from "node:os";
import { basename, dirname, join, resolve } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { parseArgs } from "node:util";
import { assess, compare, comparePair, spread, type Comparison, type PairComparison, type Spread } from "./assessment";
import { redesignOnAllCores } from "./cores";
import { redesign, type Redesigned, type RedesignOptions } from "./design";
import { DividingNetworkError } from "./errors";
import type { Loudspeaker } from "./loudspeaker";
import { readProject, type LoadedProject } from "./project";
import { comparisonPage, comparisonText, redesignText } from "./report";

const NAME = "dividing-network";
const USAGE = `Usage: npx ${NAME} project.json --out report.html, or npx ${NAME} --help`;
const HELP = `Judges a loudspeaker's network as found against the one proposed, from measured files, and writes the findings as one page.

  npx ${NAME} project.json                 prints the findings and writes report.html; a third network of the project, its alternative,
                                           is judged too, and stands on the page as a third number
  npx ${NAME} project.json --out new.html  writes the page to new.html; a page that is there is replaced
  npx ${NAME}                              the same for the invented example that comes with the package
  npx ${NAME} --example folder             copies that example with its data into a new or empty folder
  npx ${NAME} project.json --redesign 6    designs networks of at most 6 parts first, from the project's stock or in E12 without one, on all cores: a minute or so.
                                           The nearest to the goal is judged; the project's alternative, or else its proposed network, stands beside it
  npx ${NAME} --help                       this text
  npx ${NAME} --version                    the version

The project file and its keys: docs/project-file.md in the package. The exit code is 0 when the page was written, else 1.`;

/** The example lies beside the folder of this file, in a clone as in the package. */
const EXAMPLE = fileURLToPath(new URL("../examples/desk-monitor/", import.meta.url));

/** What workers run, of a built package; from the source there is none, and one core designs. */
const WORKERS = fileURLToPath(new URL("./cores/worker.js", import.meta.url));
/** More workers than this bring nothing (docs/design.md). */
const MOST_WORKERS = 8;

/** Something that whoever called the program can put right: told in words, without a stack. */
class Complaint extends Error {}

type Task =
  | { readonly kind: "judge"; readonly file: string; readonly out: string; readonly maxParts: number | undefined }
  | { readonly kind: "example"; readonly folder: string }
  | { readonly kind: "help" | "version" };

function taskOf(args: readonly string[]): Task {
  const { values, positionals } = parsed(args);
  if (values.help === true) return { kind: "help" };
  if (values.version === true) return { kind: "version" };
  if (values.example !== undefined) {
    if (values.out !== undefined || positionals.length > 0)
      throw new Complaint(
        `${NAME}: --example copies the example and does nothing else. Leave out ${positionals[0] ?? "--out"}, or leave out --example. ${USAGE}`,
      );
    return { kind: "example", folder: values.example };
  }
  if (positionals.length > 1)
    throw new Complaint(`${NAME}: one project file at a time, got ${positionals.length}: ${positionals.join(", ")}. ${USAGE}`);
  return {
    kind: "judge",
    file: resolve(positionals[0] ?? join(EXAMPLE, "project.json")),
    out: resolve(values.out ?? "report.html"),
    maxParts: maxPartsOf(values.redesign),
  };
}

function parsed(args: readonly string[]) {
  try {
    return parseArgs({
      args: [...args],
      allowPositionals: true,
      options: {
        out: { type: "string" },
        redesign: { type: "string" },
        example: { type: "string" },
        help: { type: "boolean" },
        version: { type: "boolean" },
      },
    });
  } catch (error) {
    if (!codeOf(error).startsWith("ERR_PARSE_ARGS")) throw error;
    throw new Complaint(`${NAME}: ${messageOf(error).split(/\. |\n/)[0]}. ${USAGE}`);
  }
}

function maxPartsOf(given: string | undefined): number | undefined {
  if (given === undefined) return undefined;
  if (!/^\d{1,2}$/.test(given) || Number(given) < 2 || Number(given) > 20)
    throw new Complaint(`${NAME}: --redesign takes the most parts that a network may have, 2 to 20, got ${given}. ${USAGE}`);
  return Number(given);
}

async function judge(file: string, out: string, maxParts: number | undefined): Promise<void> {
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
  const designed = maxParts === undefined ? undefined : await redesigned(loaded, maxParts, width);
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

  const tolerances = spreadOf(designedBox === undefined ? loaded : { ...loaded, proposed: designedBox });
  if (tolerances !== undefined)
    console.log(`\nFrom one loudspeaker to the next:\n${tolerances.sentences.map((sentence) => `  ${sentence}`).join("\n")}\n`);

  const page = comparisonPage(comparison, {
    title: `${project.name}: as found and proposed`,
    ...(project.description === undefined ? {} : { description: project.description }),
    generatedFrom: `${basename(file)} and ${files.length} measured files`,
    pair,
    spread: tolerances,
    stock: loaded.stock,
    proof: designed?.proof,
    // Windings are those of the proposal in the file, and say nothing of a network that was designed.
    ...(project.coils === undefined || network !== undefined ? {} : { build: { coils: project.coils } }),
    ...(third === undefined ? {} : { alternative: third }),
  });
  await writeWhole(out, page);
  console.log(`The page is at ${out}`);
  console.log(`Open it: ${pathToFileURL(out).href}`);
}

/** The nearest to the goal of what can be built from the stock, twice, for a pair; the others are printed. */
async function redesigned({ project, found, goal, stock }: LoadedProject, maxParts: number, width: number): Promise<Redesigned> {
  const cores = (await isThere(WORKERS)) ? Math.min(MOST_WORKERS, availableParallelism()) : 1;
  console.log(
    `Designing networks of at most ${maxParts} parts ${stock === undefined ? "in E12, with assumed losses" : `from ${project.stock}, for a pair`}, on ${cores} ${cores === 1 ? "core" : "cores"} …\n`,
  );
  const options: RedesignOptions = {
    goal,
    ratedImpedance: project.ratedImpedance,
    maxParts,
    ...(stock === undefined ? { series: "E12" } : { stock, units: 2 }),
  };
  const design = await (cores === 1 ? redesign(found, options) : redesignOnAllCores(found, { ...options, workers: cores }));
  console.log(redesignText(design, { width }));
  const nearest = design.front.reduce((best, one) => (one.lossDb < best.lossDb ? one : best));
  console.log(
    `Judged as the proposal: the one of ${nearest.parts} parts that is nearest to the goal. What its parts and drivers have to stand is judged below; the search kept what the parts state, where the goal states the amplifier's level.\n`,
  );
  return nearest;
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
function spreadOf({ project, found, proposed }: LoadedProject): Spread | undefined {
  try {
    return spread(proposed, { ...project.spread, goal: project.goal, ratedImpedance: project.ratedImpedance, found });
  } catch (error) {
    if (!(error instanceof DividingNetworkError)) throw error;
    console.log(`What tolerances do can't be said: ${error.message}`);
    return undefined;
  }
}

async function projectText(file: string): Promise<string> {
  try {
    return await readFile(file, "utf8");
  } catch (error) {
    const words: Readonly<Record<string, string>> = {
      ENOENT: "there is no such file. Correct the path, which is relative to where you are, or give none for the example",
      EISDIR: "this is a folder. Name the project file in it",
      EACCES: "you may not read it. Change its permissions",
    };
    throw new Complaint(`${NAME}: the project file ${file} cannot be read: ${words[codeOf(error)] ?? messageOf(error)}`);
  }
}

async function isThere(path: string): Promise<boolean> {
  return stat(path).then(
    (found) => found.isFile(),
    () => false,
  );
}

/** Refuses a place where no page can be written, or where it would take the place of what it is made from. */
async function checkOut(out: string, sources: readonly string[]): Promise<void> {
  const is = async (path: string) => stat(path).catch(() => undefined);
  if (sources.includes(out)) throw new Complaint(`${NAME}: --out ${out} is a file that the page is made from. Name another`);
  if ((await is(out))?.isDirectory() === true) throw new Complaint(`${NAME}: --out ${out} is a folder. Name a file in it`);
  if ((await is(dirname(out)))?.isDirectory() !== true)
    throw new Complaint(`${NAME}: --out ${out}: there is no folder ${dirname(out)}. Make it first, or name another`);
}

/** Whole or not at all: nobody finds half a page. */
async function writeWhole(out: string, page: string): Promise<void> {
  const half = `${out}.part`;
  try {
    await writeFile(half, page);
    await rename(half, out);
  } catch (error) {
    await rm(half, { force: true }).catch(() => undefined);
    throw new Complaint(`${NAME}: the page cannot be written to ${out}: ${messageOf(error)}`);
  }
}

/** Only into a folder that is new or empty: nothing of anyone's is replaced. */
async function copyExample(folder: string): Promise<void> {
  const to = resolve(folder);
  let there: readonly string[];
  try {
    await mkdir(to, { recursive: true });
    there = await readdir(to);
  } catch (error) {
    const words = ["EEXIST", "ENOTDIR"].includes(codeOf(error)) ? "a file is in its place. Name another folder" : messageOf(error);
    throw new Complaint(`${NAME}: --example ${to}: the folder cannot be made: ${words}`);
  }
  if (there.length > 0) throw new Complaint(`${NAME}: --example ${to}: the folder is not empty. Name a new or an empty one`);
  try {
    await cp(EXAMPLE, to, { recursive: true });
  } catch (error) {
    throw new Complaint(`${NAME}: --example ${to}: the example cannot be copied: ${messageOf(error)}`);
  }
  const project = join(folder, "project.json");
  console.log(`The example is in ${to}: an invented loudspeaker with its measured files, a poor network and a proposed one. Judge it:

  npx ${NAME} ${/[^\w./\\:-]/.test(project) ? `"${project}"` : project}

Then change project.json and judge it again: other values under "proposed", or your own measured files. docs/project-file.md in the package explains its keys.`);
}

async function version(): Promise<string> {
  const manifest = JSON.parse(await readFile(new URL("../package.json", import.meta.url), "utf8")) as { readonly version: string };
  return manifest.version;
}

function codeOf(error: unknown): string {
  return typeof error === "object" && error !== null && "code" in error ? String(error.code) : "";
}

function messageOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}

// Whoever reads only the first lines (`| head`) still gets the page.
process.stdout.on("error", (error) => {
  if (codeOf(error) !== "EPIPE") throw error;
});

try {
  const task = taskOf(process.argv.slice(2));
  if (task.kind === "judge") await judge(task.file, task.out, task.maxParts);
  else if (task.kind === "example") await copyExample(task.folder);
  else console.log(task.kind === "help" ? HELP : await version());
} catch (error) {
  // Anything else is a mistake of the program, and whoever mends it needs the stack.
  if (!(error instanceof Complaint || error instanceof DividingNetworkError)) throw error;
  console.error(error.message);
  process.exitCode = 1;
}
