/** A unit after a number: degrees stand close. */
export function withUnit(unit: string): string {
  return unit === "°" || unit === "" ? unit : `\u00A0${unit}`;
}
