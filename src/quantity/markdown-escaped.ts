import { DividingNetworkError } from "../errors";
import { show } from "../errors/internal";

/**
 * Text in which no character starts a Markdown construct or a tag, on one line.
 *
 * @param text any text
 * @returns the text with a backslash before each such character
 */
export function markdownEscaped(text: string): string {
  if (typeof text !== "string")
    throw new DividingNetworkError("invalid-argument", `markdownEscaped: "text" must be a string, got ${show(text)}`);
  return text.replace(/[\\`*_[\]<>$|~]/g, "\\$&").replace(/[\r\n\u2028\u2029]+/g, " ");
}
