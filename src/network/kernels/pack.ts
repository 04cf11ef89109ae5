/** Signs that stand in a string literal as they are, and that hexadecimal digits leave free. */
const SIGNS = "ghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ!#%&()*+,-./:;<=>?@[]^_{|}~";

/** Bytes as short text: hexadecimal digits, of which the commonest pair gets a sign of its own, again and again. `unpack` undoes it. */
export function pack(bytes: Uint8Array): { readonly rules: string; readonly text: string } {
  let text = Array.from(bytes, (byte) => byte.toString(16).padStart(2, "0")).join("");
  let rules = "";
  for (const sign of SIGNS) {
    const pair = commonestPair(text);
    if (pair === undefined) break;
    text = text.replaceAll(pair, sign);
    rules += sign + pair;
  }
  return { rules, text };
}

/** The pair that stands in a text most often, of equals the first in the alphabet; undefined where none pays for its rule. */
function commonestPair(text: string): string | undefined {
  const counts = new Map<string, number>();
  for (let at = 0; at + 1 < text.length; at++) {
    const pair = text.slice(at, at + 2);
    // "aaa" holds "aa" once.
    if (text[at - 1] === text[at] && text[at] === text[at + 1] && text[at - 2] !== text[at]) continue;
    counts.set(pair, (counts.get(pair) ?? 0) + 1);
  }
  let [best, most] = [undefined as string | undefined, 3];
  for (const [pair, count] of counts) if (count > most || (count === most && best !== undefined && pair < best)) [best, most] = [pair, count];
  return best;
}
