import { DividingNetworkError } from "../errors";
import { checkNumber, show } from "../errors/internal";

/** How many workers look, and from where they come. */
export interface WorkersOptions {
  /** How many worker threads or Web Workers, dimensionless; default as many as the machine has cores. */
  readonly workers?: number | undefined;
  /** Path or address of the workers' script, where a bundler doesn't carry it along by itself: `dividing-network/cores/worker.js`. */
  readonly workerScript?: string | undefined;
}

/** Most workers: no piece of work waits for more than eight that are still looked at (docs/design.md). */
export const MOST_WORKERS = 64;

/** The two, checked. */
export function checkWorkers(
  caller: string,
  { workers, workerScript }: WorkersOptions,
): { readonly count: number | undefined; readonly script: string | undefined } {
  const count = workers === undefined ? undefined : checkNumber(caller, "workers", workers, { min: 1, max: MOST_WORKERS, integer: true });
  if (workerScript !== undefined && (typeof workerScript !== "string" || workerScript === ""))
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "workerScript" must be a path or an address, got ${show(workerScript)}`,
      "Leave it out in Node, and under a bundler that carries workers along",
    );
  return { count, script: workerScript };
}
