// The main job: reads a project and its measured files, judges the network as found against the one proposed, prints the
// findings and writes them as one page.
//   npm run demo                                              the invented desk monitor beside this file
//   npm run demo -- path/to/project.json --out report.html    your own
import { readFile, rename, rm, stat, writeFile } from "node:fs/promises";
import { basename, dirname, resolve } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { parseArgs } from "node:util";
import { DividingNetworkError } from "dividing-network";
import { assess, compare } from "dividing-network/assessment";
import { readProject } from "dividing-network/project";
import { comparisonPage, comparisonText } from "dividing-network/report";

const USAGE = "Usage: npm run demo -- path/to/project.json --out report.html";

/** Something that whoever called the program can put right: told in words, without a stack. */
class Complaint extends Error {}

async function main(): Promise<void> {
  const { file, out } = commandLine();
  const text = await projectText(file);
  const loaded = await readProject(text, { file: basename(file), readFile: (path) => readFile(resolve(dirname(file), path), "utf8") });
  const { project, found, proposed, measured, files, notes } = loaded;
  await checkOut(out, [file, ...files.map(({ path }) => resolve(dirname(file), path))]);

  console.log(project.name);
  if (project.description !== undefined) console.log(`${project.description}\n`);
  console.log(`Read ${files.length} measured files, ${files.reduce((sum, { points }) => sum + points, 0)} points.`);
  for (const { file: of, message } of notes) console.log(`Note: ${of === undefined ? "" : `${of}: `}${message}`);

  const { ratedImpedance, goal = {} } = project;
  const whole = measured.pressures.length > 0 || measured.impedance !== undefined;
  console.log(`${whole ? "Checking the model against the loudspeaker as found, and judging" : "Judging"} the network as found and the one proposed …\n`);
  const comparison = compare(assess(found, { ratedImpedance, goal }), assess(proposed, { ratedImpedance, goal }), whole ? { measured } : {});
  console.log(comparisonText(comparison, { width: Math.max(80, Math.min(process.stdout.columns ?? 120, 160)) }));

  const page = comparisonPage(comparison, {
    title: `${project.name}: as found and proposed`,
    ...(project.description === undefined ? {} : { description: project.description }),
    generatedFrom: `${basename(file)} and ${files.length} measured files`,
  });
  await writeWhole(out, page);
  console.log(`The page is at ${out}`);
  console.log(`Open it: ${pathToFileURL(out).href}`);
}

function commandLine(): { readonly file: string; readonly out: string } {
  try {
    const { values, positionals } = parseArgs({ allowPositionals: true, options: { out: { type: "string", default: "report.html" } } });
    if (positionals.length > 1) throw new Complaint(`demo: one project file at a time, got ${positionals.length}: ${positionals.join(", ")}. ${USAGE}`);
    return { file: resolve(positionals[0] ?? fileURLToPath(new URL("desk-monitor/project.json", import.meta.url))), out: resolve(values.out) };
  } catch (error) {
    if (error instanceof Complaint || !codeOf(error).startsWith("ERR_PARSE_ARGS")) throw error;
    throw new Complaint(`demo: ${(error as Error).message.split(/\. |\n/)[0]}. ${USAGE}`);
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
    throw new Complaint(`demo: the project file ${file} cannot be read: ${words[codeOf(error)] ?? (error as Error).message}`);
  }
}

/** Refuses a place where no page can be written, or where it would take the place of what it is made from. */
async function checkOut(out: string, sources: readonly string[]): Promise<void> {
  const is = async (path: string) => stat(path).catch(() => undefined);
  if (sources.includes(out)) throw new Complaint(`demo: --out ${out} is a file that the page is made from. Name another`);
  if ((await is(out))?.isDirectory() === true) throw new Complaint(`demo: --out ${out} is a folder. Name a file in it`);
  if ((await is(dirname(out)))?.isDirectory() !== true) throw new Complaint(`demo: --out ${out}: there is no folder ${dirname(out)}. Make it first, or name another`);
}

/** Whole or not at all: nobody finds half a page. */
async function writeWhole(out: string, page: string): Promise<void> {
  const half = `${out}.part`;
  try {
    await writeFile(half, page);
    await rename(half, out);
  } catch (error) {
    await rm(half, { force: true }).catch(() => undefined);
    throw new Complaint(`demo: the page cannot be written to ${out}: ${(error as Error).message}`);
  }
}

function codeOf(error: unknown): string {
  return typeof error === "object" && error !== null && "code" in error ? String(error.code) : "";
}

try {
  await main();
} catch (error) {
  // Anything else is a mistake of the program, and whoever mends it needs the stack.
  if (!(error instanceof Complaint || error instanceof DividingNetworkError)) throw error;
  console.error(error.message);
  process.exitCode = 1;
}
