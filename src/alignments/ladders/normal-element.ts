/** One reactance of a normalised ladder: ω in rad/s, load 1 Ω. */
export interface NormalElement {
  readonly placement: "series" | "shunt";
  readonly part: "inductor" | "capacitor";
  /** H or F. */
  readonly value: number;
}
