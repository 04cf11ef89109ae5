/** Lets everything else have its turn: timers where there are any, else the waiting promises. */
export function breathe(): Promise<void> {
  const { setTimeout: later } = globalThis as { readonly setTimeout?: (call: () => void, milliseconds: number) => unknown };
  return new Promise((resolve) => {
    if (later === undefined) resolve();
    else later(resolve, 0);
  });
}
