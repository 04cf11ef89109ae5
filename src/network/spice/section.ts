/**
 * One of the circuits that, one after the other, make up an impedance: R, L, C, or two or three of them side by side. Each is
 * passive, so that every chain of them is.
 */
export interface Section {
  /** Ω. */
  readonly r?: number;
  /** H. */
  readonly l?: number;
  /** F. */
  readonly c?: number;
}

/** An impedance as a chain of sections. */
export interface SectionFit {
  readonly sections: readonly Section[];
  /** The largest relative deviation from what was asked for, on the grid, of the sections as they are given. */
  readonly error: number;
}

/** An impedance (Ω) on a grid (Hz). */
export interface SampledImpedance {
  readonly frequencies: Float64Array;
  readonly re: Float64Array;
  readonly im: Float64Array;
}

/** The impedance (Ω) of a chain of sections at an angular frequency in rad/s. */
export function sectionsImpedance(sections: readonly Section[], omega: number): readonly [re: number, im: number] {
  let [re, im] = [0, 0];
  for (const { r, l, c } of sections) {
    const [conductance, susceptance] = [
      r === undefined ? 0 : 1 / r,
      (c === undefined ? 0 : omega * c) - (l === undefined ? 0 : 1 / (omega * l)),
    ];
    const size = conductance * conductance + susceptance * susceptance;
    re += conductance / size;
    im -= susceptance / size;
  }
  return [re, im];
}

/** The largest relative deviation of a chain of sections from an impedance. */
export function deviation(sections: readonly Section[], { frequencies, re, im }: SampledImpedance): number {
  let largest = 0;
  frequencies.forEach((frequency, i) => {
    const [a, b] = sectionsImpedance(sections, 2 * Math.PI * frequency);
    largest = Math.max(largest, Math.hypot(a - re[i]!, b - im[i]!) / Math.hypot(re[i]!, im[i]!));
  });
  return largest;
}
