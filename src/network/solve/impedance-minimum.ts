import { DividingNetworkError } from "../../errors";
import { checkOptions } from "../../errors/internal";
import type { Frequency } from "../../quantity";
import { extremes, valueAt, type FrequencyResponse } from "../../response";
import { checkResponse } from "../../response/internal";

/** Where an impedance is least. */
export interface ImpedanceMinimum {
  /** Hz. */
  readonly frequency: number;
  /** |Z|, Ω. */
  readonly magnitude: number;
  /** Degrees. */
  readonly phaseDegrees: number;
  /** Whether the least value lies on an edge of the band, so that the impedance may go on falling outside. */
  readonly atEdge: boolean;
}

/**
 * The least magnitude of an impedance in a band (Ω), with its frequency and phase: of a network's sweep, which needs no loudspeaker
 * around it, or of any impedance. Between samples it lies on the curve of `valueAt`.
 *
 * @param sweepOrImpedance what `solve` gives, or an impedance in Ω
 * @param band `from` and `to` in Hz or text with its unit; default all samples above 0 Hz
 * @returns frequency (Hz), |Z| (Ω), phase (degrees), and whether it lies on the band's edge
 * @throws DividingNetworkError `outside-band`, `phase-step`, `invalid-response`, `invalid-argument`, `invalid-quantity`, `unknown-option`
 * @example
 * ```ts
 * import { capacitor, inductor, logGrid, network, resistor, solve } from "dividing-network";
 * import { impedanceMinimum } from "dividing-network/network";
 *
 * const trap = network({ R1: [resistor("4 Ω"), "in", "a"], L1: [inductor("1 mH"), "a", "b"], C1: [capacitor("10 µF"), "b", "gnd"] });
 * impedanceMinimum(solve(trap, logGrid("20 Hz", "20 kHz", 481)), { from: 200, to: "10 kHz" }).magnitude; // 4.00
 * ```
 */
export function impedanceMinimum(
  sweepOrImpedance: { readonly impedance: FrequencyResponse } | FrequencyResponse,
  band: { readonly from?: Frequency | undefined; readonly to?: Frequency | undefined } = {},
): ImpedanceMinimum {
  checkOptions("impedanceMinimum", band, ["from", "to"]);
  const given: unknown = sweepOrImpedance;
  const asked = typeof given === "object" && given !== null && "impedance" in given ? given.impedance : given;
  if (isPlainEntries(asked))
    throw new DividingNetworkError(
      "invalid-argument",
      'impedanceMinimum: "sweepOrImpedance" must be what solve gives, or an impedance, got a network',
      'Solve it first: impedanceMinimum(solve(network, logGrid("20 Hz", "20 kHz", 481)))',
    );
  const impedance = checkResponse("impedanceMinimum", "sweepOrImpedance", asked);
  const { lowest, minima } = extremes(impedance, band);
  const value = valueAt(impedance, lowest.frequency);
  return Object.freeze({
    frequency: lowest.frequency,
    magnitude: lowest.magnitude,
    phaseDegrees: (180 / Math.PI) * Math.atan2(value.im, value.re),
    atEdge: !minima.some(({ frequency }) => frequency === lowest.frequency),
  });
}

/** Parts with their nodes: a network that nobody has solved. */
function isPlainEntries(value: unknown): boolean {
  return typeof value === "object" && value !== null && !("frequencies" in value) && Object.values(value).some(Array.isArray);
}
