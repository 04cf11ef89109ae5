import { canonicalSuffix, type UnitEntry } from "./units";

const prefixWords: Readonly<Record<string, string>> = {
  pico: "p",
  nano: "n",
  micro: "µ",
  milli: "m",
  centi: "c",
  hecto: "h",
  kilo: "k",
  mega: "M",
};

const unitWords: readonly (readonly [RegExp, string])[] = [
  [/(?:ohms?|Ω|r)$/i, "Ω"],
  [/henr(?:y|ys|ies)$/i, "H"],
  [/farads?$/i, "F"],
  [/(?:hertz|cps|c\/s)$/i, "Hz"],
  [/met(?:er|re)s?$/i, "m"],
  [/sec(?:onds?|s)?$/i, "s"],
  [/volts?$/i, "V"],
  [/amp(?:ere)?s?$/i, "A"],
  [/watts?$/i, "W"],
  [/gram(?:me)?s?$/i, "g"],
  [/pascals?$/i, "Pa"],
  [/lit(?:er|re)s?$/i, "L"],
  [/(?:deg|degrees|º|°)? ?c(?:elsius)?$/i, "°C"],
  [/cc$/i, "cm³"],
];

/**
 * The symbols that may have been meant by a suffix that is not in the table: another case, a prefix alone, a word, an old
 * spelling; empty when none fits, more than one when the suffix is ambiguous.
 */
export function meantSuffixes(written: string, entry: UnitEntry): readonly string[] {
  const known = Object.keys(entry.suffixes);
  const suffix = canonicalSuffix(written.replace("^", "").replace(/ohms$/, "ohm"));
  if (known.includes(suffix)) return [suffix];
  if (entry.name === "a capacitance") {
    if (suffix === "mf") return ["µF", "mF"];
    if (/^(?:mfds?|MF|Mf|M)$/i.test(suffix) && suffix !== "m") return ["µF"];
    if (/^(?:mmfd?|uuf|µ[uµμ]f)$/i.test(suffix)) return ["pF"];
  }
  const base = known[0]!;
  if (known.includes(canonicalSuffix(suffix + base))) return [canonicalSuffix(suffix + base)];
  const folded = canonicalSuffix(suffix.toLowerCase().replace(/ohms$/, "ohm")).toLowerCase();
  const sameLetters = known.filter((symbol) => symbol.toLowerCase() === folded);
  if (sameLetters.length > 0) return sameLetters;
  const withBase = canonicalSuffix(folded + base.toLowerCase());
  const afterPrefix = known.filter((symbol) => symbol.toLowerCase() === withBase);
  return afterPrefix.length > 0 ? afterPrefix : fromWords(suffix, known);
}

function fromWords(suffix: string, known: readonly string[]): readonly string[] {
  for (const [word, symbol] of unitWords) {
    const rest = suffix.replace(word, "").trim().toLowerCase();
    if (rest.length === suffix.length) continue;
    // "kilohm" and "megohm" drop a vowel, so the first three letters decide.
    const prefix = Object.entries(prefixWords).find(
      ([name, letter]) => rest === letter || rest === name || rest === name.slice(0, -1),
    )?.[1];
    const meant = rest === "" ? symbol : `${prefix ?? "?"}${symbol}`;
    if (known.includes(meant)) return [meant];
  }
  return [];
}
