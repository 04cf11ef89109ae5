import { canonicalSuffix, type UnitEntry } from "./units";

/** Longest text taken in, in characters. */
export const maximumTextLength = 64;

const plain = /^([+-]?)(\d+\.?\d*|\.\d+)(?:[eE]([+-]?\d{1,4}))?[ \u00a0\u2009\u202f]?([^\d\s.,+-].*)$/u;
const resistorCode = /^(\d*)([RKkM])(\d*)$/;
const resistorSuffixed = /^(\d+\.\d+)([RKkM])$/;

function readResistorCode(text: string): number | undefined {
  const parts = resistorCode.exec(text) ?? resistorSuffixed.exec(text);
  if (parts === null) return undefined;
  const [, whole = "", letter, fraction = ""] = parts;
  if (whole === "" && fraction === "") return undefined;
  const number = whole.includes(".") ? whole : `${whole || "0"}.${fraction || "0"}`;
  return Number(`${number}e${letter === "R" ? 0 : letter === "M" ? 6 : 3}`);
}

/**
 * Reads the text strictly, without a message: the SI value, or `undefined` when the text is not a finite quantity in this
 * unit. The power of ten is added to the text's own exponent, so that "0.47 mH" is exactly the number 0.00047.
 */
export function readQuantity(text: string, entry: UnitEntry): number | undefined {
  if (text.length > maximumTextLength) return undefined;
  const trimmed = text.trim();
  if (entry.name === "a resistance") {
    const coded = readResistorCode(trimmed);
    if (coded !== undefined) return Number.isFinite(coded) ? coded : undefined;
  }
  const parts = plain.exec(trimmed);
  if (parts === null) return undefined;
  const [, sign, digits = "", exponent = "0", written = ""] = parts;
  const suffix = canonicalSuffix(written);
  if (!Object.hasOwn(entry.suffixes, suffix)) return undefined;
  const size = Number(`${digits}e${Number(exponent) + entry.suffixes[suffix]!}`);
  if (!Number.isFinite(size) || (size === 0 && /[1-9]/.test(digits))) return undefined;
  return sign === "-" && size !== 0 ? -size : size;
}
