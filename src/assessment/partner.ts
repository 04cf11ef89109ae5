import { highPass, type FamilyOptions } from "../alignments";
import { DividingNetworkError } from "../errors";
import { checkList, checkNumber, checkObject, checkOptions, owned, show } from "../errors/internal";
import type { Frequency } from "../quantity";
import { inSi } from "../quantity/internal";
import { responseOf, type FrequencyResponse, type TransferFunction } from "../response";
import { checkResponse } from "../response/internal";
import { statedPrototype } from "./stated-prototype";

/** What is heard beside the network: another loudspeaker or amplifier channel. */
export type Partner =
  | {
      /** Pa for 2.83 V, at each place that the goal names. */
      readonly pressures: readonly {
        /** Degrees. */
        readonly azimuth: number;
        /** Degrees. */
        readonly elevation: number;
        /** Pa. */
        readonly response: FrequencyResponse;
      }[];
    }
  | {
      /** The high-pass that the target carries. */
      readonly highPass: TransferFunction;
    };

/** A partner as it is given: its high-pass may be named by family, order and corner instead of its zeros and poles. */
export type PartnerOptions =
  | Partner
  | {
      /** The high-pass that the target carries, by its name. */
      readonly highPass: FamilyOptions & {
        /** Hz: its corner. */
        readonly frequency: Frequency;
      };
    };

/** A partner as it is taken in. */
export function checkPartner(caller: string, value: PartnerOptions): Partner {
  if (typeof value === "object" && value !== null && "highPass" in value) {
    const named: unknown = value.highPass;
    if (typeof named === "object" && named !== null && "family" in named) {
      const { family, order, rippleDb, normalization, frequency } = checkOptions(
        caller,
        named as FamilyOptions & { readonly frequency: Frequency },
        ["family", "order", "rippleDb", "normalization", "frequency"],
      );
      return owned({
        highPass: highPass(
          statedPrototype(caller, "partner.highPass", { family, order, rippleDb, normalization }),
          inSi(caller, "partner.highPass.frequency", frequency, "Hz", { min: 1e-3, max: 1e9 }),
        ),
      });
    }
    const { zeros, poles, gain } = (value.highPass ?? {}) as Partial<TransferFunction>;
    if (!Array.isArray(zeros) || !Array.isArray(poles) || typeof gain !== "number")
      throw new DividingNetworkError(
        "invalid-argument",
        `${caller}: "partner.highPass" must be a filter, as highPass() gives it, got ${show(value.highPass)}`,
      );
    const filter = value.highPass as TransferFunction;
    responseOf(filter, [1000]);
    return owned({ highPass: filter });
  }
  const { pressures } = checkOptions(caller, checkObject(caller, "partner", value, "{ pressures } or { highPass }"), ["pressures"]);
  return Object.freeze({
    pressures: Object.freeze(
      checkList(caller, "partner.pressures", pressures, "{ azimuth, elevation, response }").map((each, index) => {
        const { azimuth, elevation, response } = checkObject(
          caller,
          `partner.pressures[${index}]`,
          each,
          "{ azimuth, elevation, response }",
        );
        return Object.freeze({
          azimuth: checkNumber(caller, `partner.pressures[${index}].azimuth`, azimuth, { unit: "degrees" }),
          elevation: checkNumber(caller, `partner.pressures[${index}].elevation`, elevation, { unit: "degrees" }),
          response: checkResponse(caller, `partner.pressures[${index}].response`, response),
        });
      }),
    ),
  });
}
