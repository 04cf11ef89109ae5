/** Signs that stand in a string literal as they are, and that hexadecimal digits leave free. */
const SIGNS = "ghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ!#%&()*+,-./:;=>?@[]^_{|}~";

/** Bytes as short text: two hexadecimal digits each, of which the byte or the pair of neighbours that saves most gets a sign, again and again. `unpack` undoes it. */
export function pack(bytes: Uint8Array): { readonly rules: string; readonly text: string } {
  let items = Array.from(bytes, (byte) => byte.toString(16).padStart(2, "0"));
  const rules: string[] = [];
  for (const sign of SIGNS) {
    const run = best(items);
    if (run === undefined) break;
    items = replaced(items, run, sign);
    rules.push(sign + run.join(""));
  }
  return { rules: rules.join(" "), text: items.join("") };
}

/** One item or two neighbours for which a sign saves most characters, of equals the first in the alphabet; undefined where none pays for its rule. */
function best(items: readonly string[]): readonly string[] | undefined {
  const found = new Map<string, { readonly run: readonly string[]; count: number; last: number }>();
  const count = (at: number, length: number): void => {
    const run = items.slice(at, at + length);
    const key = run.join(" ");
    const known = found.get(key);
    if (known === undefined) found.set(key, { run, count: 1, last: at });
    else if (known.last + length <= at) {
      known.count++;
      known.last = at;
    }
  };
  for (let at = 0; at < items.length; at++) {
    count(at, 1);
    if (at + 1 < items.length) count(at, 2);
  }
  let [chosen, most, first] = [undefined as readonly string[] | undefined, 0, ""];
  for (const [key, { run, count: times }] of found) {
    const length = run.join("").length;
    const saved = times * (length - 1) - length - 2;
    if (saved > most || (saved === most && saved > 0 && key < first)) [chosen, most, first] = [run, saved, key];
  }
  return chosen;
}

function replaced(items: readonly string[], run: readonly string[], sign: string): string[] {
  const made: string[] = [];
  for (let at = 0; at < items.length; at++) {
    if (run.every((item, k) => items[at + k] === item)) {
      made.push(sign);
      at += run.length - 1;
    } else made.push(items[at]!);
  }
  return made;
}
