/** A number with few digits, a true minus and an infinity as a sign: `"−0.25"`. */
export function fewDigits(value: number, digits = 3): string {
  const size = Math.abs(value);
  return `${value < 0 ? "−" : ""}${size === Infinity ? "∞" : Number(size.toPrecision(digits))}`;
}

/** A number to so many decimals, with a true minus and no sign before a zero: `"−0.3"`, `"0.0"`. */
export function fixed(value: number, decimals: number): string {
  const text = Math.abs(value).toFixed(decimals);
  return value < 0 && Number(text) !== 0 ? `−${text}` : text;
}

/** The same with its sign, unless it is zero: `"+0.3"`. */
export function signed(value: number, decimals: number): string {
  const text = fixed(value, decimals);
  return value > 0 && Number(text) !== 0 ? `+${text}` : text;
}

/** A frequency in Hz or kHz, three digits. */
export function hertz(frequency: number): string {
  return frequency < 999.5 ? `${fewDigits(frequency)} Hz` : `${fewDigits(frequency / 1000)} kHz`;
}

/** A share in percent: `"12.5 %"`. */
export function percent(share: number, digits = 3): string {
  return `${fewDigits(100 * share, digits)} %`;
}

/** `"a, b and c"`. */
export function listOf(names: readonly string[]): string {
  return names.length < 2 ? names.join("") : `${names.slice(0, -1).join(", ")} and ${names.at(-1)!}`;
}

/** With a capital at the beginning. */
export function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
