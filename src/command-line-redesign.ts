// The command's --redesign: what the project and the flags ask for, the search on all cores, and which network of the front is judged.
import { availableParallelism } from "node:os";
import { fileURLToPath } from "node:url";
import { isThere } from "./command-line-files";
import type { RedesignTask } from "./command-line-task";
import { Complaint, NAME } from "./command-line-words";
import { redesignOnAllCores } from "./cores";
import { redesign, type Redesigned, type RedesignOptions, type RobustOptions } from "./design";
import type { LoadedProject } from "./project";
import { redesignText } from "./report";

/** What workers run, of a built package; from the source there is none, and one core designs. */
const WORKERS = fileURLToPath(new URL("./cores/worker.js", import.meta.url));
/** More workers than this bring nothing (docs/design.md). */
const MOST_WORKERS = 8;
/** How many loudspeakers `redesign` draws of each network where nothing is said. */
const DRAWN = 64;

/** The best of what can be built from the stock, twice, for a pair; the others are printed. */
export async function redesigned(loaded: LoadedProject, task: RedesignTask, width: number): Promise<Redesigned> {
  const { project, found, goal, stock } = loaded;
  const { maxParts } = task;
  const mostPieces = task.mostPieces ?? project.redesign?.mostPieces;
  const robust = robustFor(loaded, task);
  if (stock === undefined && mostPieces === 2)
    throw new Complaint(
      `${NAME}: --pieces ${mostPieces} takes two lines of a stock in the place of one part, and the project names no stock. Write "stock" into it (docs/stock.md), or leave out --pieces`,
    );
  const there = availableParallelism();
  const cores = (await isThere(WORKERS)) ? Math.min(MOST_WORKERS, there) : 1;
  const parts = stock === undefined ? "in E12, with assumed losses" : `from ${project.stock}, for a pair`;
  const pieces = mostPieces === 2 ? ", two lines of it in the place of one part where that is better" : "";
  console.log(
    `Designing networks of at most ${maxParts} parts ${parts}${pieces}${robustWords(robust)}, on ${coresWords(cores, there)} …\n`,
  );
  const left = partsLeftOut(loaded);
  if (left.length > 0)
    console.log(
      `What the project says of ${left.join(", ")} under "spread" (lots, matched) is left out: a designed network has parts of its own.\n`,
    );
  const options: RedesignOptions = {
    goal,
    ratedImpedance: project.ratedImpedance,
    maxParts,
    robust,
    ...(stock === undefined ? { series: "E12" } : { stock, units: 2, mostPieces }),
  };
  const design = await (cores === 1 ? redesign(found, options) : redesignOnAllCores(found, { ...options, workers: cores }));
  console.log(redesignText(design, { width }));
  const best = design.front.reduce((before, one) => (isBetter(one, before, robust) ? one : before));
  console.log(
    `Judged as the proposal: the one of ${best.parts} parts, ${best.lossDb.toFixed(2)} dB as drawn, that ${chosenWords(best, robust)}. What its parts and drivers have to stand is judged below; the search kept what the parts state, where the goal states the amplifier's level.\n`,
  );
  return best;
}

/** Parts of the project's own networks of which it says that they deviate alike. */
function partsLeftOut({ project: { spread = {}, drivers } }: LoadedProject): readonly string[] {
  const named = new Set([...(spread.lots ?? []).flat(), ...(spread.matched ?? [])]);
  return [...named].filter((name) => drivers.every((driver) => driver.name !== name));
}

/** What the search is robust against, by the flag or else by the project. */
function robustFor({ project, robust }: LoadedProject, { robust: by }: RedesignTask): RobustOptions | undefined {
  if (by === "none" || (by === undefined && project.redesign?.robust === undefined)) return undefined;
  const asked = by === undefined ? robust : { ...robust, by };
  if (asked.by === "yield" && asked.largestLossDb === undefined)
    throw new Complaint(
      `${NAME}: --robust yield asks for as many good loudspeakers as can be, and the project doesn't say what a good one is. Write "redesign": { "robust": { "largestLossDb": … } } into it, in dB from the goal, or ask for --robust loss`,
    );
  return asked;
}

function isBetter(one: Redesigned, before: Redesigned, robust: RobustOptions | undefined): boolean {
  if (robust === undefined) return one.lossDb < before.lossDb;
  const further = one.robust!.expectedLossDb < before.robust!.expectedLossDb;
  if (robust.by !== "yield") return further;
  const more = one.robust!.yield! - before.robust!.yield!;
  return more > 0 || (more === 0 && further);
}

function robustWords(robust: RobustOptions | undefined): string {
  if (robust === undefined) return "";
  const { by, largestLossDb, samples = DRAWN } = robust;
  const what = by === "yield" ? `the share of good ones (within ${largestLossDb} dB and all limits)` : "the loss to be expected";
  return `, chosen by ${what} of ${samples} loudspeakers drawn of each within the tolerances that parts and the project state, or else assumed ones`;
}

function chosenWords({ robust }: Redesigned, asked: RobustOptions | undefined): string {
  if (asked === undefined || robust === undefined) return "is nearest to the goal";
  return `${asked.by === "yield" ? "gives most good loudspeakers" : "is nearest to the goal as it will be built"}: ${robust.says}`;
}

/** What designs, and why not all of them do. */
function coresWords(cores: number, there: number): string {
  if (cores === there || cores > 1) return `${cores} ${cores === 1 ? "core" : "cores"}`;
  return `1 core of ${there} (workers need the built package: npm run build, then node dist/command-line.js)`;
}
