/** A frequency for a sentence: three digits. */
export function hertz(frequency: number): string {
  return frequency < 999.5 ? `${Number(frequency.toPrecision(3))} Hz` : `${Number((frequency / 1000).toPrecision(3))} kHz`;
}

/** A number with its sign, a true minus. */
export function signed(value: number, decimals: number): string {
  const text = Math.abs(value).toFixed(decimals);
  return Number(text) === 0 ? text : `${value < 0 ? "−" : "+"}${text}`;
}
