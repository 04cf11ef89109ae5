import { DividingNetworkError } from "../errors";
import { resample, type FrequencyResponse } from "../response";
import type { Evaluator, Law } from "./law";

/**
 * The law of a measured impedance: interpolated as every measured response is, exact at the measured points, refused
 * outside the measured band. It has no values to vary.
 */
export function measuredLaw(response: FrequencyResponse): Law {
  const single = new Float64Array(1);
  const law: Law = {
    name: "measured",
    parameters: [],
    limits: [],
    bind(frequencies) {
      const z = impedanceOn(response, frequencies);
      return admittanceEvaluator(z);
    },
    ratio(_values, _offset, frequency, out) {
      single[0] = frequency;
      const z = impedanceOn(response, single);
      out[0] = 1;
      out[1] = 0;
      out[2] = z.re[0]!;
      out[3] = z.im[0]!;
    },
    circuit: () => [
      {
        near: "driver",
        law,
        values: [],
        what: "the measured impedance",
        otherwise: "Describe the driver by its parameters",
        band: [response.frequencies[0]!, response.frequencies.at(-1)!],
      },
    ],
  };
  return law;
}

/** Grids that are kept of a measured impedance: a search asks for the same few of every network. */
const KEPT = 6;
const known = /* @__PURE__ */ new WeakMap<FrequencyResponse, { readonly grid: Float64Array; readonly z: FrequencyResponse }[]>();

/** The impedance on a grid, from those asked for last where it is among them. */
function impedanceOn(response: FrequencyResponse, frequencies: Float64Array): FrequencyResponse {
  const made = known.get(response) ?? [];
  const at = made.findIndex(({ grid }) => grid.length === frequencies.length && grid.every((frequency, i) => frequency === frequencies[i]));
  if (at >= 0) {
    const [hit] = made.splice(at, 1);
    made.unshift(hit!);
    return hit!.z;
  }
  const z = interpolated(response, frequencies);
  // The grid is whoever asks's, who may change it.
  if (frequencies.length > 1) known.set(response, [{ grid: frequencies.slice(), z }, ...made].slice(0, KEPT));
  return z;
}

function interpolated(response: FrequencyResponse, frequencies: Float64Array): FrequencyResponse {
  const { frequencies: grid } = response;
  const [low, high] = [grid[0]!, grid[grid.length - 1]!];
  for (const frequency of frequencies) {
    if (frequency < low || frequency > high) {
      throw new DividingNetworkError(
        "outside-measured-band",
        `driverImpedance: the measured impedance reaches from ${low} Hz to ${high} Hz, asked for ${frequency} Hz`,
        "Ask within the band, measure a wider one, or describe the driver by its parameters",
      );
    }
  }
  if (grid === frequencies) return response;
  const between = resample(response, frequencies, { delay: 0 });
  between.re.forEach((re, i) => {
    // A curve through phases close to ±90° may swing beyond, and a driver that gives power would turn every law of a network round.
    if (!(re > 0)) {
      throw new DividingNetworkError(
        "invalid-response",
        `driverImpedance: between its samples the measured impedance comes to a real part of ${re} Ω at ${frequencies[i]} Hz`,
        "Measure with more points there, or check the phase, which is close to ±90°",
      );
    }
  });
  return between;
}

function admittanceEvaluator(z: FrequencyResponse): Evaluator {
  return {
    admittance(_values, _offset, start, count, re, im, at) {
      for (let i = 0; i < count; i++) {
        const [zr, zi] = [z.re[start + i]!, z.im[start + i]!];
        const size = zr * zr + zi * zi;
        re[at + i] = zr / size;
        im[at + i] = -zi / size;
      }
    },
    derivative() {
      throw new DividingNetworkError("invalid-argument", "driverImpedance: a measured impedance has no values to vary");
    },
  };
}
