import { maximumTextLength, readQuantity } from "./read-quantity";
import { meantSuffixes } from "./suffix-repair";
import { canonicalSuffix, units, type UnitEntry } from "./units";

const head = /^([+-]?)(0[xob][0-9a-f]+|[0-9][0-9.,_' ]*|[.,][0-9]+)((?:e[+-]?\d{1,4})?)(.*)$/i;
const marking = /^([+-]?\d*)([rlpnumkµμ])(\d+) ?(.*)$/i;

/** The way to write a refused text, found by repairing the usual mistakes; always one sentence. */
export function quantityHint(text: string, entry: UnitEntry): string {
  if (text.length > maximumTextLength) return `Shorten it to at most ${maximumTextLength} characters, as in "${entry.example}"`;
  const clean = text
    .trim()
    .replace(/[\u2212\u2013]/g, "-")
    .replace(/\s+/g, " ")
    .replace(/ ?[x×*·] ?10\^?(?=[+-]?\d)/, "e");
  if (/^[+-]?(?:inf|nan|∞)/i.test(clean)) return `Write a finite number with its unit, as in "${entry.example}"`;
  const found = clean === "" ? [] : [...fromMarking(clean, entry), ...fromNumber(clean, entry)];
  const good = [...new Set(found)].filter((candidate) => {
    const value = readQuantity(candidate, entry);
    return value !== undefined && (entry.signed || value >= 0);
  });
  if (good.length > 0) return `Write ${good.map((candidate) => `"${candidate}"`).join(" or ")}`;
  return otherUnit(clean, entry) ?? `Write a number and its unit, as in "${entry.example}"`;
}

/** "4n7", "4R7J": a letter in the place of the decimal point. */
function fromMarking(clean: string, entry: UnitEntry): string[] {
  const parts = marking.exec(clean);
  if (parts === null) return [];
  const [, whole = "", letter = "", fraction = "", rest = ""] = parts;
  const number = `${unsigned(whole, entry) || "0"}.${fraction}`;
  const resistance = entry.name === "a resistance";
  if (resistance && !/^(?:[BCDFGJKM]|\u03a9|\u2126|ohms?)?$/i.test(rest)) return [];
  if (resistance && /[rkM]/i.test(letter) && letter !== "m")
    return [`${unsigned(whole, entry)}${letter === "k" ? "k" : letter.toUpperCase()}${fraction}`];
  if (resistance && /l/i.test(letter)) return [`${number} mΩ`];
  if (/r/i.test(letter)) return usualSuffixes(entry).map((suffix) => `${number} ${suffix}`);
  const base = Object.keys(entry.suffixes)[0]!;
  return meantSuffixes(rest === "" || rest.startsWith(letter) ? rest || letter : letter + rest, entry)
    .map((suffix) => `${number} ${suffix}`)
    .concat(rest === "" ? [] : meantSuffixes(letter + base, entry).map((suffix) => `${number} ${suffix}`));
}

/** A number that can be read after a repair, and a suffix that can be guessed. */
function fromNumber(clean: string, entry: UnitEntry): string[] {
  const parts = head.exec(clean);
  if (parts === null) return [];
  const [, sign = "", digits = "", exponent = "", rest = ""] = parts;
  const suffixes = suffixesOf(rest.trim(), entry);
  const numbers = repairedNumbers(digits.trim()).map((number) => `${unsigned(sign, entry)}${number}${exponent}`);
  return numbers.flatMap((number) => suffixes.map((suffix) => `${number} ${suffix}`));
}

function suffixesOf(rest: string, entry: UnitEntry): readonly string[] {
  if (rest === "") return usualSuffixes(entry);
  const whole = meantSuffixes(rest, entry);
  return whole.length > 0 ? whole : meantSuffixes(rest.split(/[\s,;:±+%/()-]/, 1)[0] || "?", entry);
}

function repairedNumbers(digits: string): string[] {
  if (/^0[xob]/i.test(digits)) return [String(Number(digits))];
  const joined = digits.replace(/(?<=\d)[_' ](?=\d)/g, "");
  if (/^[1-9]\d{0,2},\d{3}$/.test(joined)) return [joined.replace(",", ""), joined.replace(",", ".")];
  if (/^\d{1,3}(?:,\d{3})+\.\d*$/.test(joined) || /^\d{1,3}(?:,\d{3}){2,}$/.test(joined)) return [joined.replaceAll(",", "")];
  if (/^\d{1,3}(?:\.\d{3})+,\d*$/.test(joined)) return [joined.replaceAll(".", "").replace(",", ".")];
  return [joined.replace(/^,/, "0.").replace(",", ".")];
}

/** The suffix of the example and the bare unit: what a number without unit may have meant. */
function usualSuffixes(entry: UnitEntry): string[] {
  return [entry.example.split(" ")[1]!, Object.keys(entry.suffixes)[0]!];
}

function unsigned(sign: string, entry: UnitEntry): string {
  return entry.signed ? sign.replace("+", "") : sign.replace(/^[+-]/, "");
}

function otherUnit(clean: string, entry: UnitEntry): string | undefined {
  const suffix = canonicalSuffix(clean.replace(/^[^a-zµμΩ\u2126°]*/i, ""));
  const other = Object.values<UnitEntry>(units).find((candidate) => candidate !== entry && Object.hasOwn(candidate.suffixes, suffix));
  return other && `"${suffix}" is a unit of ${other.name.replace(/^an? /, "")}; write ${entry.name}, as in "${entry.example}"`;
}
