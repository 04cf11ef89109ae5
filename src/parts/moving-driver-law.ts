import type { Evaluator, Law } from "./law";

/** The motional branch of a driver around its resonance. */
export interface Motional {
  /** Ω. */
  readonly re: number;
  /** Hz. */
  readonly fs: number;
  readonly qms: number;
  readonly qes: number;
}

/**
 * A driver's impedance, measured or modelled, whose resonance moves: Z + M(a·fs, b·Q) − M(fs, Q) with the motional branch
 * M = re·(qms/qes)/(1 + j·qms·(f/fs − fs/f)). Its values are the factors a and b, both 1 for the driver as it is; both Q move together, so that the peak keeps its height.
 */
export function movingDriverLaw(base: Law, values: readonly number[], { re, fs, qms, qes }: Motional): Law {
  const height = (re * qms) / qes;
  const motion = (a: number, b: number, f: number, out: Float64Array, at: number, sign: number) => {
    const u = qms * b * (f / (fs * a) - (fs * a) / f);
    const peak = (sign * height) / (1 + u * u);
    out[at]! += peak;
    out[at + 1]! -= peak * u;
  };
  return {
    name: "moving driver",
    parameters: ["resonance", "q"],
    limits: [{ range: { above: 0 } }, { range: { above: 0 } }],
    finite: true,
    bind(frequencies) {
      const n = frequencies.length;
      const [yr, yi] = [new Float64Array(n), new Float64Array(n)];
      base.bind(frequencies).admittance(values, 0, 0, n, yr, yi, 0);
      // What doesn't move: the whole without its motional branch.
      const still = new Float64Array(2 * n);
      for (let i = 0; i < n; i++) {
        const size = yr[i]! * yr[i]! + yi[i]! * yi[i]!;
        still[2 * i] = yr[i]! / size;
        still[2 * i + 1] = -yi[i]! / size;
        motion(1, 1, frequencies[i]!, still, 2 * i, -1);
      }
      return evaluatorOf(frequencies, still, height, fs, qms, { yr, yi });
    },
    ratio(moved, offset, frequency, out) {
      base.ratio(values, 0, frequency, out);
      if (!(frequency > 0)) return;
      // A driver's law gives Z itself: a = 1.
      motion(moved[offset]!, moved[offset + 1]!, frequency, out, 2, 1);
      motion(1, 1, frequency, out, 2, -1);
    },
  };
}

function evaluatorOf(
  frequencies: Float64Array,
  still: Float64Array,
  height: number,
  fs: number,
  qms: number,
  { yr, yi }: { readonly yr: Float64Array; readonly yi: Float64Array },
): Evaluator {
  return {
    admittance(values, offset, start, count, re, im, at) {
      const a = values[offset]!;
      const b = values[offset + 1]!;
      if (a === 1 && b === 1) {
        for (let i = 0; i < count; i++) {
          re[at + i] = yr[start + i]!;
          im[at + i] = yi[start + i]!;
        }
        return;
      }
      for (let i = 0; i < count; i++) {
        const f = frequencies[start + i]!;
        const u = qms * b * (f / (fs * a) - (fs * a) / f);
        const peak = height / (1 + u * u);
        const zr = still[2 * (start + i)]! + peak;
        const zi = still[2 * (start + i) + 1]! - peak * u;
        const size = zr * zr + zi * zi;
        re[at + i] = zr / size;
        im[at + i] = -zi / size;
      }
    },
    // M = h/(1 + ju), ∂M = −jh/(1 + ju)²·∂u, ∂Y = −Y²·∂Z
    derivative(values, offset, index, start, count, re, im, at) {
      const [a, b] = [values[offset]!, values[offset + 1]!];
      for (let i = 0; i < count; i++) {
        const f = frequencies[start + i]!;
        const u = qms * b * (f / (fs * a) - (fs * a) / f);
        const slope = index === 0 ? -qms * b * (f / (fs * a * a) + fs / f) : u / b;
        const square = (1 + u * u) ** 2;
        const [gr, gi] = [(height * slope * -2 * u) / square, (-height * slope * (1 - u * u)) / square];
        const peak = height / (1 + u * u);
        const [zr, zi] = [still[2 * (start + i)]! + peak, still[2 * (start + i) + 1]! - peak * u];
        const size = zr * zr + zi * zi;
        const [ar, ai] = [zr / size, -zi / size];
        const [qr, qi] = [ar * ar - ai * ai, 2 * ar * ai];
        re[at + i] = -(qr * gr - qi * gi);
        im[at + i] = -(qr * gi + qi * gr);
      }
    },
  };
}
