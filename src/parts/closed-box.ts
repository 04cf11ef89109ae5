import { DividingNetworkError } from "../errors";
import { checkNumber, checkOptions, show } from "../errors/internal";
import { startWorking, type Frequency, type Volume, type Working } from "../quantity";
import { inSi } from "../quantity/internal";
import type { FrequencyResponse } from "../response";
import { freezeResponse } from "../response/internal";
import { positiveResults } from "./positive-results";

/** A driver in a closed box. */
export interface ClosedBox {
  /** Dimensionless: Vas / Vb. */
  readonly alpha: number;
  /** Hz: system resonance. */
  readonly fc: number;
  /** Dimensionless: electrical, mechanical, total Q at fc. */
  readonly qec: number;
  /** Dimensionless: mechanical Q at fc. */
  readonly qmc: number;
  /** Dimensionless: total Q at fc. */
  readonly qtc: number;
  /** Hz: where the response is 3 dB down. */
  readonly f3: number;
  /** dB: height of the peak above the passband; 0 when there is none. */
  readonly peakDb: number;
  /** How each number came about. */
  readonly working: Working;
}

const small = "after Small (1972), closed-box systems";

/**
 * Resonance in Hz and Q of a driver in a closed box without filling, with the working.
 *
 * $$\alpha = V_{as}/V_b, \qquad f_c = f_s\sqrt{1+\alpha}, \qquad Q_{c} = Q_{s}\sqrt{1+\alpha}$$
 *
 * @param options `fs` in Hz, `qes` and `qms` dimensionless, `vas` and `volume` in m³; text with units where it can be
 * @returns alpha and Q dimensionless, fc and f3 in Hz, peakDb in dB
 * @throws DividingNetworkError `invalid-argument`, `unknown-option`, `overflow`
 * Source: after Small (1972); checked values recomputed.
 * @example
 * ```ts
 * import { closedBox } from "dividing-network/parts";
 *
 * closedBox({ fs: 45.944075, qes: 0.512546, qms: 3.608439, vas: "20.67657 L", volume: "10 L" }).fc; // 80.4698
 * ```
 */
export function closedBox(options: {
  readonly fs: Frequency;
  readonly qes: number;
  readonly qms: number;
  readonly vas: Volume;
  readonly volume: Volume;
}): ClosedBox {
  const caller = "closedBox";
  const given = checkOptions(caller, options, ["fs", "qes", "qms", "vas", "volume"]);
  const fs = inSi(caller, "fs", given.fs, "Hz", { above: 0 });
  const qes = checkNumber(caller, "qes", given.qes, { above: 0 });
  const qms = checkNumber(caller, "qms", given.qms, { above: 0 });
  const vas = inSi(caller, "vas", given.vas, "m³", { above: 0 });
  const volume = inSi(caller, "volume", given.volume, "m³", { above: 0 });
  const w = startWorking();
  const alpha = w.step(
    "α",
    "",
    { formula: "Vas / Vb", tex: "\\alpha = V_{as}/V_b", source: small },
    { Vas: [vas, "m³"], Vb: [volume, "m³"] },
    (v) => v.Vas / v.Vb,
  );
  const raised = (symbol: string, from: string, value: number, unit: string): number =>
    w.step(
      symbol,
      unit,
      { formula: `${from} √(1 + α)`, tex: `${symbol} = ${from}\\sqrt{1+\\alpha}`, source: small },
      { [from]: [value, unit], α: [alpha, ""] },
      (v) => v[from]! * Math.sqrt(1 + v["α"]),
    );
  const fc = raised("fc", "fs", fs, "Hz");
  const qec = raised("Qec", "Qes", qes, "");
  const qmc = raised("Qmc", "Qms", qms, "");
  const qtc = w.step(
    "Qtc",
    "",
    { formula: "Qec Qmc / (Qec + Qmc)", tex: "Q_{tc} = \\frac{Q_{ec}Q_{mc}}{Q_{ec}+Q_{mc}}", source: small },
    { Qec: [qec, ""], Qmc: [qmc, ""] },
    (v) => (v.Qec * v.Qmc) / (v.Qec + v.Qmc),
  );
  const b = w.step(
    "b",
    "",
    { formula: "1 / (2 Qtc²) − 1", tex: "b = \\frac{1}{2Q_{tc}^2} - 1", source: small },
    { Qtc: [qtc, ""] },
    (v) => 1 / (2 * v.Qtc ** 2) - 1,
  );
  const f3 = w.step(
    "f₃",
    "Hz",
    { formula: "fc √(b + √(b² + 1))", tex: "f_3 = f_c\\sqrt{b+\\sqrt{b^2+1}}", source: small },
    { fc: [fc, "Hz"], b: [b, ""] },
    (v) => v.fc * Math.sqrt(v.b + Math.hypot(v.b, 1)),
  );
  const peakDb = qtc > Math.SQRT1_2 ? 20 * Math.log10(qtc ** 2 / Math.sqrt(qtc ** 2 - 0.25)) : 0;
  return Object.freeze({ ...positiveResults(caller, { alpha, fc, qec, qmc, qtc, f3 }), peakDb, working: w.done() });
}

/**
 * Response of a closed box re its passband, dimensionless: a second-order high-pass with $s = jf/f_c$.
 *
 * $$H = \frac{s^2}{s^2 + s/Q_{tc} + 1}$$
 *
 * @param frequencies Hz, n of them, ascending
 * @param options `fc` in Hz or text with its unit, `qtc` dimensionless
 * @returns n dimensionless values, 1 far above fc
 * @throws DividingNetworkError `invalid-argument`
 * Source: after Small (1972).
 * @example
 * ```ts
 * import { closedBoxResponse } from "dividing-network/parts";
 * import { levelDb } from "dividing-network/response";
 *
 * levelDb(closedBoxResponse([80], { fc: "80 Hz", qtc: Math.SQRT1_2 })); // [-3.0103]
 * ```
 */
export function closedBoxResponse(
  frequencies: ArrayLike<number>,
  options: { readonly fc: Frequency; readonly qtc: number },
): FrequencyResponse {
  const caller = "closedBoxResponse";
  const given = checkOptions(caller, options, ["fc", "qtc"]);
  const fc = inSi(caller, "fc", given.fc, "Hz", { above: 0 });
  const q = checkNumber(caller, "qtc", given.qtc, { above: 0 });
  const listed: unknown = frequencies;
  if (!Array.isArray(listed) && !ArrayBuffer.isView(listed))
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "frequencies" must be an array of frequencies in Hz, got ${show(frequencies)}`,
    );
  const n = frequencies.length;
  if (n > 2 ** 27)
    throw new DividingNetworkError(
      "too-large",
      `${caller}: "frequencies" must be at most ${2 ** 27} frequencies, got ${n}`,
      "Ask for fewer at a time",
    );
  const [grid, re, im] = [new Float64Array(n), new Float64Array(n), new Float64Array(n)];
  for (let k = 0; k < n; k++) {
    const f = frequencies[k]!;
    if (!(Number.isFinite(f) && f >= 0 && (k === 0 || f > grid[k - 1]!)))
      throw new DividingNetworkError(
        "invalid-argument",
        `${caller}: "frequencies" must be at least 0 Hz and ascending, got ${show(f)} at index ${k}`,
      );
    grid[k] = f;
    const x = f / fc;
    // −x² / (1 − x² + jx/Q), above fc divided by x² and all multiplied by Q, so that it holds at both ends of either.
    const y = 1 / x;
    const a = q * (x > 1 ? y * y - 1 : 1 - x * x);
    const b = x > 1 ? y : x;
    const size = Math.hypot(a, b);
    const top = (q / size) * (x > 1 ? 1 : x * x);
    re[k] = 0 - top * (a / size);
    im[k] = top * (b / size);
  }
  return freezeResponse(grid, re, im);
}
