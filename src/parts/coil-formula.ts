/** Formula of the voice coil's impedance beside Re. */
export type CoilModel = "none" | "inductance" | "power" | "parallel";

/**
 * A coil's impedance as it is fitted. All is relative: impedances to a first guess of Re, frequencies to the top of the band, where a coil
 * shows most. The parameters may leave the range in which they are a coil's: the sum of squares is smooth across the end of that range.
 */
export interface CoilFormula {
  readonly coil: CoilModel;
  /** Guesses from the reactance at the top of the band. The last parameter is the one that enters least linearly. */
  readonly starts: (reactance: number) => readonly (readonly number[])[];
  /** Writes the impedance at the frequencies x for the parameters from `at` on: real and imaginary parts in turn. */
  readonly write: (p: ArrayLike<number>, at: number, x: Float64Array, out: Float64Array) => void;
  /** The terms for `driverImpedance`, in SI, where Re was guessed at `re` Ω and the top of the band is at `omega` rad/s. */
  readonly terms: (p: ArrayLike<number>, at: number, re: number, omega: number) => Readonly<Record<string, number>>;
  /** What it becomes at the end of its range, with one parameter less; and a place within the range that is close to parameters of that. */
  readonly limit?: { readonly formula: CoilFormula; readonly extended: (p: readonly number[]) => readonly number[] };
  /** Whether the parameters are a coil's. */
  readonly valid: (p: ArrayLike<number>, at: number) => boolean;
}

/** What the reactance at the top of the band may be taken times, since the motional branch has its share in it. */
const shares = /* @__PURE__ */ Object.freeze([0.3, 1, 3]);

export const noCoil: CoilFormula = {
  coil: "none",
  starts: () => [[]],
  write: (_p, _at, _x, out) => out.fill(0),
  terms: () => ({}),
  valid: () => true,
};

/** jωLe. */
export const inductance: CoilFormula = {
  coil: "inductance",
  starts: (reactance) => shares.map((share) => [share * reactance]),
  write(p, at, x, out) {
    for (let k = 0; k < x.length; k++) {
      out[2 * k] = 0;
      out[2 * k + 1] = p[at]! * x[k]!;
    }
  },
  terms: (p, at, re, omega) => ({ le: (re * p[at]!) / omega }),
  valid: (p, at) => p[at]! > 0,
};

/** K(jω)ⁿ by its size at the top of the band, which is known far better than K, its size at 1 rad/s, and by n. */
export const power: CoilFormula = {
  coil: "power",
  limit: { formula: inductance, extended: ([size]) => [size!, 0.9] },
  starts: (reactance) =>
    shares.flatMap((share) => [0.5, 0.65, 0.8, 0.95].map((n) => [(share * reactance) / Math.sin((n * Math.PI) / 2), n])),
  write(p, at, x, out) {
    const n = p[at + 1]!;
    const [re, im] = [p[at]! * Math.cos((n * Math.PI) / 2), p[at]! * Math.sin((n * Math.PI) / 2)];
    for (let k = 0; k < x.length; k++) {
      const size = x[k]! ** n;
      out[2 * k] = re * size;
      out[2 * k + 1] = im * size;
    }
  },
  terms: (p, at, re, omega) => ({ k: re * p[at]! * omega ** -p[at + 1]!, n: p[at + 1]! }),
  valid: (p, at) => p[at]! > 0 && p[at + 1]! > 0 && p[at + 1]! < 1,
};

/** Re2 ∥ jωLe2, by Re2 and by the logarithm of the frequency at which ωLe2 is Re2. */
export const lossyOnly: CoilFormula = {
  coil: "parallel",
  starts: (reactance) => [0.5, 2, 8].flatMap((share) => [0.7, -0.7, -2.1, -3.5].map((corner) => [share * reactance, corner])),
  write(p, at, x, out) {
    const inverse = Math.exp(-p[at + 1]!);
    for (let k = 0; k < x.length; k++) {
      const y = x[k]! * inverse;
      const reactance = (p[at]! * y) / (1 + y * y);
      out[2 * k] = reactance * y;
      out[2 * k + 1] = reactance;
    }
  },
  terms: (p, at, re, omega) => ({ re2: re * p[at]!, le2: ((re * p[at]!) / omega) * Math.exp(-p[at + 1]!) }),
  valid: (p, at) => p[at]! > 0,
};

/** jωLe + Re2 ∥ jωLe2. */
export const parallel: CoilFormula = {
  coil: "parallel",
  limit: { formula: lossyOnly, extended: (p) => [0.1, ...p] },
  starts: (reactance) => lossyOnly.starts(reactance).flatMap((start) => [0.2, 0.6].map((share) => [share * reactance, ...start])),
  write(p, at, x, out) {
    lossyOnly.write(p, at + 1, x, out);
    for (let k = 0; k < x.length; k++) out[2 * k + 1]! += p[at]! * x[k]!;
  },
  terms: (p, at, re, omega) => ({ ...inductance.terms(p, at, re, omega), ...lossyOnly.terms(p, at + 1, re, omega) }),
  valid: (p, at) => inductance.valid(p, at) && lossyOnly.valid(p, at + 1),
};
