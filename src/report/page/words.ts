/** A unit after a number: degrees stand close. */
export function withUnit(unit: string): string {
  return unit === "°" || unit === "" ? unit : `\u00A0${unit}`;
}

/** A frequency for people: three digits. */
export function hertz(frequency: number): string {
  return frequency < 999.5 ? `${Number(frequency.toPrecision(3))} Hz` : `${Number((frequency / 1000).toPrecision(3))} kHz`;
}
