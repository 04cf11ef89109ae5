import { DividingNetworkError } from "../errors";
import { checkObject, show } from "../errors/internal";

/** Options of a function that may take long: tell how far it is, and stop it. */
export interface LongWorkOptions {
  /** Called now and then with the share that is done; what it throws ends the work. */
  readonly onProgress?: ((done: number, total: number) => void) | undefined;
  /** Anything with an `aborted` flag, such as an `AbortSignal`; looked at between steps. */
  readonly signal?:
    | {
        /** Whether the work is to stop. */
        readonly aborted: boolean;
      }
    | undefined;
}

/**
 * Reports one step of long work and stops it when asked to.
 *
 * @param caller name of the public function, for the message
 * @param options progress callback and signal, both optional
 * @param done steps finished, dimensionless
 * @param total steps in all, dimensionless
 * @returns nothing
 * @throws DividingNetworkError `aborted` when the signal says so
 */
export function reportProgress(caller: string, options: LongWorkOptions, done: number, total: number): void {
  const { onProgress, signal } = checkObject("reportProgress", "options", options, "an object { onProgress, signal }");
  if (onProgress !== undefined && typeof onProgress !== "function")
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "onProgress" must be a function of (done, total), got ${show(onProgress)}`,
    );
  if (signal?.aborted) throw new DividingNetworkError("aborted", `${caller}: stopped by its signal after ${done} of ${total} steps`);
  onProgress?.(done, total);
}
