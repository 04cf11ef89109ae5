import { checkOptions } from "../errors/internal";
import type { ChosenValues, ChooseValuesOptions } from "../design";
import { CHOOSE_VALUES_OPTIONS, chosenInPieces, valuesPlan, type LookedPiece } from "../design/internal";
import type { Loudspeaker } from "../loudspeaker";
import type { Entries } from "../network";
import { received, type WorkerAnswer } from "./worker-answer";
import { sendable, workers as startWorkers } from "./workers";
import { checkWorkers, MOST_WORKERS, type WorkersOptions } from "./workers-options";

/** What `chooseValuesOnAllCores` takes: all that `chooseValues` takes but `shard`, and how many workers look. */
export interface ChooseValuesOnAllCoresOptions<T extends Entries = Entries> extends Omit<ChooseValuesOptions<T>, "shard">, WorkersOptions {}

const CALLER = "chooseValuesOnAllCores";

/**
 * What `chooseValues` does, by several workers at once: worker threads in Node, Web Workers in a browser. The search is divided into eight pieces, whoever looks at them, and what a piece is told of
 * the others' losses depends on its place alone: everything that is found is the same, to the last bit, for any number of workers. It is what `chooseValues` finds; `evaluated` is larger, since pieces know less of one another, and of several
 * networks with the very same loss it may be another. More than four workers bring nothing. This thread stays free; what comes after the search by plain levels (of a large space by third octaves, or with `robust`) it does itself.
 *
 * When `signal` stops it, what was being looked at is dropped, and the bound is 0. Branches with parts that hold functions can't be sent.
 *
 * @param loudspeaker network, drivers and source; its network says what is connected to what
 * @param options those of `chooseValues` (dB, Ω, dimensionless) but `shard`; `workers` (dimensionless); `workerScript`
 * @returns the best network, its loss and the proven bound in dB, the count of networks and of what was looked at (dimensionless)
 * @throws DividingNetworkError `worker-failed` where a worker can't be started or breaks off, and what `chooseValues` throws
 * @example
 * ```ts no-run
 * import { capacitor, type Loudspeaker } from "dividing-network";
 * import { chooseValuesOnAllCores } from "dividing-network/cores";
 *
 * declare const box: Loudspeaker<{ readonly C1: readonly [ReturnType<typeof capacitor>, "in", "t"] }>;
 * const { network, proven } = await chooseValuesOnAllCores(box, { goal: { frequencies: [500, 1000, 2000] }, values: { C1: ["4.7 µF", "6.8 µF"] } });
 * ```
 */
export async function chooseValuesOnAllCores<T extends Entries>(
  loudspeaker: Loudspeaker<T>,
  options: ChooseValuesOnAllCoresOptions<T>,
): Promise<ChosenValues> {
  const names = CHOOSE_VALUES_OPTIONS.filter((name) => name !== "shard");
  const { workers, workerScript, ...own } = checkOptions(CALLER, options, [...names, "workers", "workerScript"]);
  const { count, script } = checkWorkers(CALLER, { workers, workerScript });
  const plan = valuesPlan(CALLER, loudspeaker, own);
  const order = sendable(CALLER, { caller: CALLER, ...plan.order });
  const stopped = () => plan.question.signal?.aborted === true;
  const crew = await startWorkers<WorkerAnswer<LookedPiece>>(CALLER, { count, most: MOST_WORKERS, script, stopped });
  try {
    return await chosenInPieces(plan, {
      hands: crew.count,
      look: async (piece, below): Promise<LookedPiece> => {
        const answer = await crew.ask("choose", [order, piece, below]);
        return answer === undefined ? { complete: false, looked: 0, lowerBoundDb: 0 } : received(answer);
      },
    });
  } finally {
    await crew.end();
  }
}
