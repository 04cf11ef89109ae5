import { DividingNetworkError } from "./error";

/**
 * What an error says of a value, to be said again after the value's place in a file: without the function that threw it, without
 * the name that stood for the value, and without its hint.
 *
 * @param error what was caught; anything but a `DividingNetworkError` is thrown again
 * @returns the sentence that goes on after the place ("must be …"), and the hint, which may be empty
 */
export function saidBy(error: unknown): { readonly message: string; readonly hint: string } {
  if (!(error instanceof DividingNetworkError)) throw error;
  const { message, hint } = error;
  const tail = hint === "" ? "" : `. ${hint}`;
  const sentence = tail !== "" && message.endsWith(tail) ? message.slice(0, -tail.length) : message;
  return { message: sentence.replace(/^\w+: (?:"value" )?/, ""), hint };
}
