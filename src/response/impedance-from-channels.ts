import { DividingNetworkError } from "../errors";
import { checkOptions } from "../errors/internal";
import type { Resistance } from "../quantity";
import { inSi } from "../quantity/internal";
import { checkResponse } from "./check-response";
import { finiteResponse } from "./finite-response";
import type { FrequencyResponse } from "./sampled-function";
import type { Mark } from "./mark";
import { mergeMarks } from "./merge-marks";
import { checkSameGrid } from "./same-grid";

/** Two channels on both sides of a resistor in series with what is measured. */
export interface TwoChannelOptions {
  /** Voltage at the amplifier's side of the resistor, any unit. */
  readonly source: FrequencyResponse;
  /** Voltage across what is measured, in the same unit and on the same time zero. */
  readonly load: FrequencyResponse;
  /** Ω or text with its unit: the resistor between the two. */
  readonly reference: Resistance;
  /** What `load`'s channel reads divided by what `source`'s channel reads when both are joined; default 1. */
  readonly balance?: FrequencyResponse | undefined;
  /** Ω: input resistance of `load`'s channel, in parallel with what is measured; default none. */
  readonly inputResistance?: Resistance | undefined;
}

/**
 * Impedance in ohms from the voltages on both sides of a reference resistor in series with it.
 *
 * $$Z = R_{ref} \frac{U_{load}}{U_{source} - U_{load}}$$
 *
 * `balance` takes out the difference of the two channels: join both to the amplifier and divide the load channel's response by the
 * other's. Where |Z| is more than 30 times or less than 1/30 of the resistor, the two voltages (or one of them and zero) can hardly be told
 * apart, and the band is marked uncertain.
 *
 * @param options two voltages in one unit, `reference` in Ω
 * @returns Ω at the same frequencies
 * @throws DividingNetworkError `grid-mismatch`, `invalid-argument`; `undetermined` where no current flows; `overflow`
 * @example
 * ```ts
 * import { frequencyResponse, impedanceFromChannels } from "dividing-network/response";
 *
 * const source = frequencyResponse([100], [1], [0]);
 * const load = frequencyResponse([100], [0.375], [0]);
 * impedanceFromChannels({ source, load, reference: "10 Ω" }).re; // [6]
 * ```
 */
export function impedanceFromChannels(options: TwoChannelOptions): FrequencyResponse {
  const caller = "impedanceFromChannels";
  const given = checkOptions(caller, options, ["source", "load", "reference", "balance", "inputResistance"]);
  const source = checkResponse(caller, "source", given.source);
  const load = checkResponse(caller, "load", given.load);
  checkSameGrid(caller, source, load);
  const balance = given.balance === undefined ? undefined : checkResponse(caller, "balance", given.balance);
  if (balance !== undefined) checkSameGrid(caller, source, balance);
  const reference = inSi(caller, "reference", given.reference, "Ω", { above: 0 });
  const parallel = given.inputResistance === undefined ? 0 : 1 / inSi(caller, "inputResistance", given.inputResistance, "Ω", { above: 0 });
  const { frequencies } = source;
  const re = new Float64Array(frequencies.length);
  const im = new Float64Array(frequencies.length);
  for (let k = 0; k < frequencies.length; k++) {
    const bRe = balance?.re[k] ?? 1;
    const bIm = balance?.im[k] ?? 0;
    // With the source channel brought to the load channel's sensitivity, Y = (U_source − U_load) / (R U_load) − 1/R_in.
    const uRe = source.re[k]! * bRe - source.im[k]! * bIm;
    const uIm = source.re[k]! * bIm + source.im[k]! * bRe;
    const vRe = load.re[k]!;
    const vIm = load.im[k]!;
    const dRe = uRe - vRe - reference * parallel * vRe;
    const dIm = uIm - vIm - reference * parallel * vIm;
    const square = dRe * dRe + dIm * dIm;
    if (!(square > 1e-24 * (uRe * uRe + uIm * uIm))) {
      throw new DividingNetworkError(
        "undetermined",
        `${caller}: the two voltages must differ, got the same at ${frequencies[k]!} Hz: no current flows`,
        "Check the wiring, or leave this frequency out",
      );
    }
    re[k] = (reference * (vRe * dRe + vIm * dIm)) / square;
    im[k] = (reference * (vIm * dRe - vRe * dIm)) / square;
  }
  const given2 = balance === undefined ? [source, load] : [source, load, balance];
  return finiteResponse(caller, frequencies, re, im, [...mergeMarks(given2), ...doubtful(frequencies, re, im, reference)]);
}

function doubtful(frequencies: Float64Array, re: Float64Array, im: Float64Array, reference: number): Mark[] {
  const marks: Mark[] = [];
  const bad = (k: number): boolean => Math.abs(Math.log(Math.hypot(re[k]!, im[k]!) / reference)) > Math.log(30);
  for (let k = 0; k < frequencies.length; k++) {
    if (!bad(k)) continue;
    const from = frequencies[k]!;
    while (k + 1 < frequencies.length && bad(k + 1)) k++;
    marks.push(
      Object.freeze({
        kind: "uncertain",
        from,
        to: frequencies[k]!,
        note: `the impedance is far from the ${reference} Ω of the reference resistor`,
      }),
    );
  }
  return marks;
}
