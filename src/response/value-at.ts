import { Complex } from "complex.js";
import { DividingNetworkError } from "../errors";
import type { Frequency } from "../quantity";
import { inSi } from "../quantity/internal";
import { checkResponse } from "./check-response";
import type { FrequencyResponse } from "./sampled-function";
import { writeValue } from "./interpolant";
import { checkTransferFunction, isTransferFunction, refusePrototype, writeTransfer, type TransferFunction } from "./transfer-function";

/**
 * The complex value of a response or of a transfer function at one frequency, in the unit of the response.
 *
 * A sample is given as it is; between samples the value is that of `resample`. A transfer function is evaluated exactly.
 *
 * @param responseOrFilter a sampled response, or `{ zeros, poles, gain }`
 * @param frequency Hz, or text with its unit
 * @returns the value, a complex.js `Complex`
 * @throws DividingNetworkError `outside-band`, `phase-step`, `pole-on-axis`, `invalid-response`,
 * `invalid-transfer-function`, `unscaled-prototype`, `invalid-argument`, `invalid-quantity`
 * @example
 * ```ts
 * import { frequencyResponse, valueAt } from "dividing-network";
 *
 * const response = frequencyResponse([1000, 2000, 4000], [4, 2, 1], [0, 0, 0]);
 * valueAt(response, "2 kHz"); // 2 + 0j
 * valueAt(response, 2828.427).abs(); // 1.41421
 * ```
 */
export function valueAt(responseOrFilter: FrequencyResponse | TransferFunction, frequency: Frequency): Complex {
  const f = inSi("valueAt", "frequency", frequency, "Hz");
  const re = new Float64Array(1);
  const im = new Float64Array(1);
  if (isTransferFunction(responseOrFilter)) {
    refusePrototype("valueAt", checkTransferFunction("valueAt", "responseOrFilter", responseOrFilter), f);
    writeTransfer("valueAt", responseOrFilter, f, re, im, 0);
  } else {
    writeValue("valueAt", checkResponse("valueAt", "responseOrFilter", responseOrFilter), undefined, f, re, im, 0);
  }
  if (!(Number.isFinite(re[0]) && Number.isFinite(im[0]))) {
    throw new DividingNetworkError(
      "overflow",
      `valueAt: the value at ${f} Hz must be a finite number, got ${re[0]} + j(${im[0]})`,
      "Scale the response",
    );
  }
  return new Complex(re[0], im[0]);
}
