const written = /^[+\-\u2212]?(?:\d+\.?\d*|\.\d+)(?:[eE][+\-\u2212]?\d+)?$/;

/**
 * Reads one number of a text file, written in full with the given decimal mark: the number, which is infinite when it is
 * beyond what a double holds, or `undefined` when the word is something else. `power` is a power of ten that the number is
 * multiplied by before it is rounded. A typographic minus sign (U+2212) counts as a minus.
 */
export function textNumber(word: string, decimal: "." | ",", power = 0): number | undefined {
  const plain = decimal === "," ? (word.includes(".") ? "" : word.replace(",", ".")) : word;
  if (!written.test(plain)) return undefined;
  const text = plain.includes("\u2212") ? plain.replaceAll("\u2212", "-") : plain;
  if (power === 0) return Number(text);
  const [digits = "", exponent = "0"] = text.split(/[eE]/);
  return Number(`${digits}e${Number(exponent) + power}`);
}

/** Whether a line begins as a number does, or with a word for a number that is none. */
export function startsLikeNumber(line: string): boolean {
  return /^(?:[+\-\u2212]?[.,]?\d|[+\-\u2212]?(?:nan|inf|infinity)(?![a-z]))/i.test(line);
}
