/** Powers of ten by suffix. `mil`, a thousandth of an inch, is not read. */
const powers: Readonly<Record<string, number>> = { t: 12, g: 9, meg: 6, k: 3, m: -3, u: -6, µ: -6, μ: -6, n: -9, p: -12, f: -15 };

/** A number of a netlist. */
export interface SpiceValue {
  readonly value: number;
  /** What a reader may have meant otherwise; one sentence. */
  readonly doubt?: string;
}

/**
 * Reads a number with its suffix: T, G, MEG, K, M (10⁻³), U, N, P, F (10⁻¹⁵), in either case. Letters after it are a unit and mean nothing.
 *
 * @param word as it stands in the netlist
 * @param unit letters of the unit that the number is in: `"F"`, `"H"` or `"Ohm"`
 * @returns the number in SI, or `undefined` when the word is none
 */
export function spiceValue(word: string, unit: string): SpiceValue | undefined {
  const parts = /^([+-]?(?:\d+\.?\d*|\.\d+))(?:e([+-]?\d{1,4}))?([a-zµμΩΩ]*)$/iu.exec(word);
  if (parts === null) return undefined;
  const [, digits, exponent = "0", letters = ""] = parts;
  const tail = letters.toLowerCase();
  if (tail.startsWith("mil")) return undefined;
  const suffix = tail.startsWith("meg") ? "meg" : tail.slice(0, 1);
  const power = powers[suffix];
  const value = Number(`${digits}e${Number(exponent) + (power ?? 0)}`);
  if (suffix === "f" && unit === "F")
    return { value, doubt: `${word} is read as 10⁻¹⁵, by the rule of the format: F is a suffix and no unit` };
  if (letters.startsWith("M") && suffix === "m") return { value, doubt: `${word} is read as 10⁻³, by the rule of the format: 10⁶ is MEG` };
  return { value };
}
