import { DividingNetworkError } from "../errors";
import { checkNumber, checkOneOf, checkOptions } from "../errors/internal";
import type { WindowShape } from "../numeric";
import { halfWindow } from "../numeric/internal";
import type { Time } from "../quantity";
import { inSi } from "../quantity/internal";
import { arrivalTime } from "./arrival-time";
import { freezeResponse } from "./frequency-response";
import type { FrequencyResponse } from "./sampled-function";
import { gateMarks } from "./gate-marks";
import { checkImpulse, freezeImpulse } from "./impulse-response";
import type { ImpulseResponse } from "./sampled-impulse";
import { responseFromImpulse } from "./response-from-impulse";

/** Which part of an impulse response is kept. */
export interface GateOptions {
  /** s, from the direct sound to the first reflection: T. */
  readonly duration: Time;
  /** s, when the direct sound arrives; default `arrivalTime` of the impulse response. */
  readonly arrival?: Time | undefined;
  /** s kept before the arrival, over which the gate opens; default T/10. */
  readonly lead?: Time | undefined;
  /** Share of T over which the gate closes, 0 to 1; default 0.3. */
  readonly fade?: number | undefined;
  /** Shape of opening and closing; default `"hann"`. */
  readonly shape?: WindowShape | undefined;
}

const optionNames = ["duration", "arrival", "lead", "fade", "shape"];

/**
 * The part of an impulse response that a gate lets through, in its unit: the gate opens over `lead` before the arrival, is open until
 * (1 − fade)·T after it and closed at T. Samples outside are left out, so the result is short.
 *
 * @param impulse samples over time
 * @param options `duration`, `arrival` and `lead` in s or text with their unit, `fade` dimensionless
 * @returns the windowed samples in their unit, on the same time axis
 * @throws DividingNetworkError `invalid-argument`; `outside-impulse` when the gate does not lie within the samples
 * @example
 * ```ts
 * import { gateImpulse, impulseResponse } from "dividing-network/response";
 *
 * const room = impulseResponse([0, 1, 0.5, 0.2, 0.1, 0, 0.7], { sampleRate: 1000 });
 * gateImpulse(room, { duration: "4 ms", arrival: "1 ms", fade: 0.5, lead: 0 }).samples; // [1, 0.5, 0.2, 0.05, 0]
 * ```
 */
export function gateImpulse(impulse: ImpulseResponse, options: GateOptions): ImpulseResponse {
  return gate("gateImpulse", impulse, options).impulse;
}

/**
 * Frequency response of the reflection-free part of an impulse response, in its unit, with the gate's two marks: no data below 1/T,
 * coarse up to 3/T. Arithmetic carries the marks into every later result.
 *
 * @param impulse samples over time
 * @param options those of `gateImpulse`, and `frequencies` in Hz; by default every 1/(4T) or closer up to half the sampling rate
 * @returns the response in the unit of the samples
 * @throws DividingNetworkError `invalid-argument`, `outside-impulse`, `overflow`
 * @example
 * ```ts
 * import { gatedResponse, impulseResponse } from "dividing-network/response";
 *
 * const room = impulseResponse([0, 1, 0, 0, 0, 0, 0.7], { sampleRate: 1000 });
 * const response = gatedResponse(room, { duration: "4 ms", arrival: "1 ms", lead: 0, frequencies: [300, 400] });
 * response.marks?.[0]?.to; // 250
 * ```
 */
export function gatedResponse(
  impulse: ImpulseResponse,
  options: GateOptions & { readonly frequencies?: ArrayLike<number> | undefined },
): FrequencyResponse {
  const { frequencies, ...rest } = checkOptions("gatedResponse", options, [...optionNames, "frequencies"]);
  const { impulse: open, duration } = gate("gatedResponse", impulse, rest);
  let length = 1;
  while (length < Math.max(open.samples.length, 4 * duration * open.sampleRate)) length *= 2;
  const { frequencies: grid, re, im } = responseFromImpulse(open, frequencies === undefined ? { length } : { frequencies });
  return freezeResponse(grid, re, im, gateMarks(duration));
}

function gate(caller: string, given: ImpulseResponse, options: GateOptions): { impulse: ImpulseResponse; duration: number } {
  const { samples, sampleRate, startTime } = checkImpulse(caller, "impulse", given);
  const { duration, arrival, lead, fade = 0.3, shape = "hann" } = checkOptions(caller, options, optionNames);
  const t = inSi(caller, "duration", duration, "s", { above: 1e-9, max: 1e4 });
  const direct = arrival === undefined ? arrivalTime(given) : inSi(caller, "arrival", arrival, "s", { min: -1e6, max: 1e6 });
  const before = lead === undefined ? t / 10 : inSi(caller, "lead", lead, "s", { min: 0, max: 1e4 });
  checkNumber(caller, "fade", fade, { min: 0, max: 1 });
  checkOneOf(caller, "shape", shape, ["rectangular", "hann", "blackman", "blackman-harris"]);
  const slack = 1e-9;
  const first = Math.max(0, Math.ceil((direct - before - startTime) * sampleRate - slack));
  const last = Math.min(samples.length - 1, Math.floor((direct + t - startTime) * sampleRate + slack));
  if (first > last) {
    const end = startTime + (samples.length - 1) / sampleRate;
    throw new DividingNetworkError(
      "outside-impulse",
      `${caller}: the gate must lie within the samples, ${startTime} s to ${end} s, got ${direct - before} s to ${direct + t} s`,
    );
  }
  const out = samples.slice(first, last + 1);
  for (let i = 0; i < out.length; i++) {
    const time = startTime + (first + i) / sampleRate - direct;
    if (time < 0 && before > 0) out[i]! *= halfWindow(shape, -time / before);
    else if (fade > 0) out[i]! *= halfWindow(shape, Math.max(0, (time / t - 1) / fade + 1));
  }
  return { impulse: freezeImpulse(out, sampleRate, startTime + first / sampleRate), duration: t };
}
