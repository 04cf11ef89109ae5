import { checkOptions } from "../errors/internal";
import type { Redesign, RedesignOptions } from "../design";
import { carriedOut, REDESIGN_OPTIONS, redesignPlan, type Looked } from "../design/internal";
import type { Loudspeaker } from "../loudspeaker";
import { orderOf } from "./order";
import { received, type WorkerAnswer } from "./worker-answer";
import { sendable, workers as startWorkers } from "./workers";
import { checkWorkers, MOST_WORKERS, type WorkersOptions } from "./workers-options";

/** What `redesignOnAllCores` takes: all that `redesign` takes, and how many workers look. */
export interface AllCoresOptions extends RedesignOptions, WorkersOptions {}

const CALLER = "redesignOnAllCores";

/**
 * What `redesign` does, by several workers at once: worker threads in Node, Web Workers in a browser. The result is the same, to the last bit, for any number of workers and as `redesign`'s: what a
 * topology is told of the others' losses depends on its place in the order alone. This thread stays free. Workers are ended when the front is there, when
 * `signal` stops them (at once; what they were looking at is dropped), and when one of them fails.
 *
 * A `coilResistance` is asked here, for all values that may be looked at, before the workers start. Needs the package `workerpool`, which comes with this one and which only this
 * subpath loads. In Node the script of the workers lies in the package; bundlers that know `new URL("./worker.js", import.meta.url)` carry it along; for others, and where the page's
 * rules forbid workers from there, give `workerScript`.
 *
 * @param loudspeaker drivers with roles, what was measured of them (Pa/V), and the network as found; without functions in it, which can't be sent
 * @param options those of `redesign` (dB, Ω, dimensionless); `workers` (dimensionless); `workerScript`
 * @returns the front with losses and levels in dB, counts dimensionless
 * @throws DividingNetworkError `worker-failed` where a worker can't be started or breaks off, and what `redesign` throws
 * @example
 * ```ts no-run
 * import { readFile } from "node:fs/promises";
 * import { readProject } from "dividing-network/project";
 * import { redesignOnAllCores } from "dividing-network/cores";
 *
 * const { found, goal } = await readProject(await readFile("project.json", "utf8"), { file: "project.json", readFile: (path) => readFile(path, "utf8") });
 * const { front } = await redesignOnAllCores(found, { goal, maxParts: 6, onProgress: ({ done, of }) => console.log(`${done} of ${of}`) });
 * ```
 */
export async function redesignOnAllCores(loudspeaker: Loudspeaker, options: AllCoresOptions = {}): Promise<Redesign> {
  const { workers: asked, workerScript, ...own } = checkOptions(CALLER, options, [...REDESIGN_OPTIONS, "workers", "workerScript"]);
  const { count, script } = checkWorkers(CALLER, { workers: asked, workerScript });
  const plan = redesignPlan(CALLER, loudspeaker, own);
  const order = sendable(CALLER, orderOf(plan));
  const crew = await startWorkers<WorkerAnswer<Looked>>(CALLER, { count, most: MOST_WORKERS, script, stopped: plan.stopped });
  try {
    return await carriedOut(plan, {
      hands: crew.count,
      look: async ({ ways, inSeries, leastLevelDb }, below, hand): Promise<Looked> => {
        const answer = await crew.ask("look", [order, { ways, inSeries, leastLevelDb }, below], hand);
        return answer === undefined ? { complete: false, boundDb: 0, networks: 0, thinned: false } : received(answer);
      },
    });
  } finally {
    await crew.end();
  }
}
