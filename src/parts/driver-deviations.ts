import type { CoilFormula } from "./coil-formula";

/** A curve to be fitted, and what is known of it beforehand. */
export interface FitTask {
  /** Hz */
  readonly f: Float64Array;
  /** Ω */
  readonly re: Float64Array;
  readonly im: Float64Array;
  /** Ω: Re where it was measured with direct current. */
  readonly stated: number | undefined;
  /** First guesses: Ω, Hz, Ω at the peak. */
  readonly guess: { readonly re: number; readonly fs: number; readonly top: number };
}

/** A formula with its parameters set out for a fit. */
export interface DriverDeviations {
  /** Writes ln(Z_model/Z): real and imaginary parts in turn. */
  readonly write: (p: ArrayLike<number>, out: Float64Array) => void;
  /** re, fs, qms, qes, qts, res (without a motional branch re alone) and the coil's terms, in SI. */
  readonly quantities: (p: ArrayLike<number>) => Readonly<Record<string, number>>;
  /** Where the coil's parameters begin. */
  readonly coilAt: number;
  readonly starts: readonly Float64Array[];
}

/**
 * Re (unless stated), the motional branch (unless `resonant` is false) and a coil: the logarithms of Re, Res and fs re the guesses, that of Qms, and the
 * coil's own parameters. The deviation is ln(Z_model/Z): its mean over scatter of equal relative size is 0, while that of Z_model/Z − 1 is
 * the scatter's square, which would pull the whole curve down.
 */
export function driverDeviations({ f, re, im, stated, guess }: FitTask, formula: CoilFormula, resonant: boolean): DriverDeviations {
  const n = f.length;
  const x = f.map((value) => value / f[n - 1]!);
  const zRe = re.map((value) => value / guess.re);
  const zIm = im.map((value) => value / guess.re);
  const squared = zRe.map((value, k) => value * value + zIm[k]! * zIm[k]!);
  const branchAt = stated === undefined ? 1 : 0;
  const coilAt = branchAt + (resonant ? 3 : 0);
  const coil = new Float64Array(2 * n);
  const reOf = (p: ArrayLike<number>): number => (stated === undefined ? Math.exp(p[0]!) : stated / guess.re);
  const branchOf = (p: ArrayLike<number>) => ({
    res: Math.exp(p[branchAt]!),
    qms: Math.exp(p[branchAt + 1]!),
    fs: guess.fs * Math.exp(p[branchAt + 2]!),
  });
  // Q and the coil from a few places each; Re and fs from their guesses.
  const reactance = Math.max(0.3, zIm[n - 1]!);
  const height = Math.log(Math.max(0.1, guess.top / guess.re - 1));
  const branches = resonant ? [1, 2, 4, 8, 16].map((qms) => [height, Math.log(qms), 0]) : [[]];
  return {
    coilAt,
    starts: branches.flatMap((branch) =>
      formula.starts(reactance).map((own) => Float64Array.of(...new Float64Array(branchAt), ...branch, ...own)),
    ),
    write(p, out) {
      const resistance = reOf(p);
      const { res, qms, fs } = resonant ? branchOf(p) : { res: 0, qms: 0, fs: 1 };
      formula.write(p, coilAt, x, coil);
      for (let k = 0; k < n; k++) {
        const u = qms * (f[k]! / fs - fs / f[k]!);
        const peak = res / (1 + u * u);
        const a = resistance + coil[2 * k]! + peak;
        const b = coil[2 * k + 1]! - peak * u;
        out[2 * k] = 0.5 * Math.log((a * a + b * b) / squared[k]!);
        out[2 * k + 1] = Math.atan2(b * zRe[k]! - a * zIm[k]!, a * zRe[k]! + b * zIm[k]!);
      }
    },
    quantities(p) {
      const whole = guess.re * reOf(p);
      const terms = formula.terms(p, coilAt, guess.re, 2 * Math.PI * f[n - 1]!);
      if (!resonant) return { re: whole, ...terms };
      const { res, qms, fs } = branchOf(p);
      const qes = (qms * reOf(p)) / res;
      return { re: whole, fs, qms, qes, qts: 1 / (1 / qms + 1 / qes), res: guess.re * res, ...terms };
    },
  };
}
