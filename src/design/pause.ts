import { DividingNetworkError } from "../errors";

/** Milliseconds of work between two pauses. */
const SLICE = 30;

interface Loop {
  readonly setImmediate?: (call: () => void) => unknown;
  readonly setTimeout?: (call: () => void, milliseconds: number) => unknown;
}

/** Lets everything else have its turn: at the end of the event loop's round where there is such a thing, since a timer of 0 takes a millisecond and more; else by a timer, or with the waiting promises. */
export function breathe(): Promise<void> {
  const { setImmediate: soon, setTimeout: later } = globalThis as Loop;
  return new Promise((resolve) => {
    if (soon !== undefined) soon(resolve);
    else if (later !== undefined) later(resolve, 0);
    else resolve();
  });
}

/** Asked often in long work: undefined while there is nothing to wait for, else what is to be waited for. */
export type Pause = () => Promise<void> | undefined;

/** A pause when it is time for one; after it the work ends when the signal says so. */
export function pauseFor(caller: string, signal: { readonly aborted: boolean } | undefined): Pause {
  let since = Date.now();
  return () => {
    if (Date.now() - since < SLICE) return undefined;
    return breathe().then(() => {
      since = Date.now();
      if (signal?.aborted === true)
        throw new DividingNetworkError("aborted", `${caller}: stopped by its signal before a network was found`);
    });
  };
}

/** Whether it is time for a pause; asking `rested` begins the next slice. */
export function slices(): { readonly over: () => boolean; readonly rested: () => void } {
  let since = Date.now();
  return { over: () => Date.now() - since >= SLICE, rested: () => void (since = Date.now()) };
}
