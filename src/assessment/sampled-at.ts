import { DividingNetworkError } from "../errors";
import { findInterval } from "../numeric/internal";
import { frequencyResponse, resample, type FrequencyResponse } from "../response";

/**
 * A response at other frequencies (Hz), for rows that explain. Where its phase turns by more than a quarter between two samples, as across a notch
 * of a network that is narrower than the data, its complex parts are interpolated straight over ln f instead: no verdict is refused for that, and
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
  const at = Float64Array.from(wanted);
  const between = (values: Float64Array) =>
    at.map((frequency) => {
      const i = Math.min(findInterval(frequencies, frequency), frequencies.length - 2);
      const [a, b] = [frequencies[i]!, frequencies[i + 1]!];
      const share = a > 0 ? Math.log(frequency / a) / Math.log(b / a) : frequency / b;
      return values[i]! + share * (values[i + 1]! - values[i]!);
    });
  return frequencyResponse(at, between(re), between(im), marks);
}
