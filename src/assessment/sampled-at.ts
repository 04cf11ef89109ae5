import { DividingNetworkError } from "../errors";
import { findInterval } from "../numeric/internal";
import { inSi } from "../quantity/internal";
import { estimateDelay, frequencyResponse, resample, type FrequencyResponse } from "../response";

/**
 * A response at other frequencies (Hz), for rows that explain. Where its phase turns by more than a quarter between two samples, as across a notch
 * of a network that is narrower than the data, its complex parts are interpolated straight over ln f instead, without the bulk delay: no verdict is refused for that, and
 * the loss, which is of powers, isn't either.
 */
export function sampledAt(
  response: FrequencyResponse,
  wanted: ArrayLike<number>,
  options: Parameters<typeof resample>[2] = {},
): FrequencyResponse {
  try {
    return resample(response, wanted, options);
  } catch (error) {
    if (!(error instanceof DividingNetworkError && error.code === "phase-step")) throw error;
  }
  const { frequencies, re, im, marks } = response;
  // The flight turns the phase by far more between two samples than a notch does.
  const delay = options.delay === undefined ? estimateDelay(response) : inSi("sampledAt", "delay", options.delay, "s");
  const turn = (x: number, y: number, angle: number): readonly [number, number] => [
    x * Math.cos(angle) - y * Math.sin(angle),
    x * Math.sin(angle) + y * Math.cos(angle),
  ];
  const [outRe, outIm] = [new Float64Array(wanted.length), new Float64Array(wanted.length)];
  const at = Float64Array.from(wanted);
  at.forEach((frequency, k) => {
    const i = Math.min(findInterval(frequencies, frequency), frequencies.length - 2);
    const [a, b] = [frequencies[i]!, frequencies[i + 1]!];
    const share = a > 0 ? Math.log(frequency / a) / Math.log(b / a) : frequency / b;
    const [ar, ai] = turn(re[i]!, im[i]!, 2 * Math.PI * (a - frequency) * delay);
    const [br, bi] = turn(re[i + 1]!, im[i + 1]!, 2 * Math.PI * (b - frequency) * delay);
    outRe[k] = ar + share * (br - ar);
    outIm[k] = ai + share * (bi - ai);
  });
  return frequencyResponse(at, outRe, outIm, marks);
}
