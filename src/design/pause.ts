import { DividingNetworkError } from "../errors";

/** Milliseconds of work between two pauses. */
const SLICE = 30;

/** Lets everything else have its turn: timers where there are any, else the waiting promises. */
export function breathe(): Promise<void> {
  const { setTimeout: later } = globalThis as { readonly setTimeout?: (call: () => void, milliseconds: number) => unknown };
  return new Promise((resolve) => {
    if (later === undefined) resolve();
    else later(resolve, 0);
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
