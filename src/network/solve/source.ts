import type { ComplexArrays } from "../../numeric";
import { DividingNetworkError } from "../../errors";
import { checkOptions } from "../../errors/internal";
import type { Inductance, Resistance } from "../../quantity";
import { inSi } from "../../quantity/internal";
import { resample, type FrequencyResponse } from "../../response";

/** What stands between the ideal source and the node `in`: the amplifier's output and the cable. */
export type SourceImpedance =
  | Resistance
  | {
      /** Ω, default 0. */
      readonly resistance?: Resistance | undefined;
      /** H, in series; default 0. */
      readonly inductance?: Inductance | undefined;
    }
  | FrequencyResponse;

/** The source's impedance on a grid, Ω; undefined when there is none. */
export type SourceResponse = ComplexArrays | undefined;

/** The source's impedance on a grid of frequencies in Hz. */
export function sourceResponse(caller: string, source: SourceImpedance | undefined, frequencies: Float64Array): SourceResponse {
  if (source === undefined || source === 0) return undefined;
  if (typeof source === "object" && source !== null && "frequencies" in source) {
    try {
      return resample(source, frequencies, { delay: 0 });
    } catch (error) {
      if (error instanceof DividingNetworkError)
        throw new DividingNetworkError(
          error.code,
          `${caller}: "sourceImpedance" must be known at every frequency asked for: ${error.message}`,
        );
      throw error;
    }
  }
  const { resistance, inductance } = sourceValues(caller, source);
  return {
    re: new Float64Array(frequencies.length).fill(resistance),
    im: frequencies.map((frequency) => 2 * Math.PI * frequency * inductance),
  };
}

/** The resistance (Ω) and inductance (H) of a source's impedance that isn't a response. */
export function sourceValues(
  caller: string,
  source: Exclude<SourceImpedance, FrequencyResponse> | undefined,
): { readonly resistance: number; readonly inductance: number } {
  const { resistance = 0, inductance = 0 } =
    typeof source === "object" && source !== null
      ? checkOptions(`${caller}: sourceImpedance`, source, ["resistance", "inductance"])
      : { resistance: source };
  return {
    resistance: inSi(caller, "sourceImpedance", resistance, "Ω", { min: 0 }),
    inductance: inSi(caller, "sourceImpedance.inductance", inductance, "H", { min: 0 }),
  };
}
