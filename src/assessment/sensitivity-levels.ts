import { checkObject, checkOptions } from "../errors/internal";
import { DRIVE_VOLTAGE } from "../physics";
import type { FrequencyResponse } from "../response";
import { checkResponse } from "../response/internal";
import { bandLevelDb, checkBand } from "./band";
import type { FrequencyBand, Resistance, Voltage } from "../quantity";
import { inSi } from "../quantity/internal";

/** Sensitivity at the distance of the response, both ways in which it is stated. */
export interface SensitivityLevels {
  /** dB re 20 µPa for 2.83 V of the source. */
  readonly for2V83Db: number;
  /** dB re 20 µPa for 1 W into the rated impedance. */
  readonly for1WDb: number;
}

/**
 * Sensitivity: the power average of the sound pressure over a band (each octave weighing the same, as `bandPowerAverage` takes
 * it), for 2.83 V and for 1 W into the rated impedance R, which is $20\lg(\sqrt{R\cdot 1\,\mathrm{W}}/2.83\,\mathrm{V})$ away:
 * 2.83 V into 4 Ω is 2 W. State the distance beside it; 1 m is usual.
 *
 * @param response sound pressure on the axis, Pa
 * @param options `band` in Hz, `ratedImpedance` in Ω, `voltage` that drove the response in V (default 2.83 V)
 * @returns levels in dB re 20 µPa at the response's own distance
 * @throws DividingNetworkError `invalid-argument`, `outside-band`
 * @example
 * ```ts
 * import { frequencyResponse, logGrid } from "dividing-network";
 * import { sensitivityLevels } from "dividing-network/assessment";
 *
 * const grid = logGrid(100, 10_000, 200);
 * const flat = frequencyResponse(grid, grid.map(() => 0.2), grid.map(() => 0));
 * sensitivityLevels(flat, { band: { from: 300, to: 3000 }, ratedImpedance: 4 }); // { for2V83Db: 80, for1WDb: 76.985 }
 * ```
 */
export function sensitivityLevels(
  response: FrequencyResponse,
  options: { readonly band: FrequencyBand; readonly ratedImpedance: Resistance; readonly voltage?: Voltage | undefined },
): SensitivityLevels {
  checkOptions("sensitivityLevels", checkObject("sensitivityLevels", "options", options, "{ band, ratedImpedance, voltage }"), [
    "band",
    "ratedImpedance",
    "voltage",
  ]);
  const band = checkBand("sensitivityLevels", "band", options.band);
  const rated = inSi("sensitivityLevels", "ratedImpedance", options.ratedImpedance, "Ω", { above: 0 });
  const voltage = inSi("sensitivityLevels", "voltage", options.voltage ?? DRIVE_VOLTAGE, "V", { above: 0 });
  const for2V83Db = bandLevelDb(checkResponse("sensitivityLevels", "response", response), band) - 20 * Math.log10(voltage / DRIVE_VOLTAGE);
  return Object.freeze({ for2V83Db, for1WDb: for2V83Db + 20 * Math.log10(Math.sqrt(rated) / DRIVE_VOLTAGE) });
}
