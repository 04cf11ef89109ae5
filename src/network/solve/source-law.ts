import { coilLaw, resistanceLaw, type Law } from "../../parts/internal";
import type { FrequencyResponse } from "../../response";
import type { CircuitBranch } from "../circuit";
import { sourceResponse, sourceValues, type SourceImpedance } from "./source";

/** The source's impedance as a branch of a circuit: its law and values. */
export function sourceLaw(caller: string, source: SourceImpedance | undefined): Pick<CircuitBranch, "law" | "values"> {
  if (typeof source === "object" && source !== null && "frequencies" in source) return { law: responseLaw(caller, source), values: [] };
  const { resistance, inductance } = sourceValues(caller, source);
  return inductance === 0 ? { law: resistanceLaw, values: [resistance] } : { law: coilLaw, values: [inductance, resistance] };
}

/** The law of a source whose impedance is known as a response. It may be 0 Ω, which counts as an infinite admittance. */
function responseLaw(caller: string, response: FrequencyResponse): Law {
  const on = (frequencies: Float64Array) => sourceResponse(caller, response, frequencies)!;
  return {
    name: "source",
    parameters: [],
    limits: [],
    bind(frequencies) {
      const z = on(frequencies);
      return {
        admittance(_values, _offset, start, count, re, im, at) {
          for (let i = 0; i < count; i++) {
            const [zr, zi] = [z.re[start + i]!, z.im[start + i]!];
            const size = zr * zr + zi * zi;
            re[at + i] = size === 0 ? Infinity : zr / size;
            im[at + i] = size === 0 ? 0 : -zi / size;
          }
        },
        derivative: () => undefined,
      };
    },
    ratio(_values, _offset, frequency, out) {
      const z = on(Float64Array.of(frequency));
      out[0] = 1;
      out[1] = 0;
      out[2] = z.re[0]!;
      out[3] = z.im[0]!;
    },
  };
}
