import { DividingNetworkError } from "../../errors";
import { checkOptions } from "../../errors/internal";
import { VACUUM_PERMEABILITY } from "../../physics";
import type { Frequency, Length, Temperature } from "../../quantity";
import { inSi } from "../../quantity/internal";
import { positiveResults } from "../positive-results";
import { conductorAt, type Conductor } from "./material";
import { skinEffect } from "./skin-effect";
import { wireResistance } from "./wire";

/** What a cable puts in series with its load. */
export interface WireRun {
  /** Ω, of both wires. */
  readonly resistance: number;
  /** H, of the loop. */
  readonly inductance: number;
}

/**
 * Resistance and inductance of a run of two parallel round wires, there and back:
 * $L = \frac{\mu_0 l}{\pi}\left[\ln\frac{2D}{d} + \frac{\mu_r}{4}\cdot\frac{L_i}{L_{i0}}\right]$, with the skin effect of each wire at `frequency`. The nearness of the
 * other wire, which moves the current aside, isn't in it: it matters where the skin depth is small and the wires all but touch (up to a third in
 * resistance, and in the direction of less inductance). As a part of a network: `inductor(run.inductance, { dcr: run.resistance })`.
 *
 * @param options `length` of the run in m, one way; `diameter` of each wire and `spacing` of their centres in m; `frequency` in Hz (default 0); `temperature` in °C (default 20); `material` (default copper)
 * @returns resistance in Ω and inductance in H of both wires together
 * @throws DividingNetworkError `invalid-argument`, `invalid-quantity`, `unknown-option`; `overflow` when a result leaves what a number can hold
 * @example
 * ```ts
 * import { inductor, wireRun } from "dividing-network/parts";
 *
 * const run = wireRun({ length: "5 m", diameter: "1.8 mm", spacing: "3 mm" });
 * run.resistance; // 0.067754 Ω
 * run.inductance; // 2.908e-6 H
 * const cable = inductor(run.inductance, { dcr: run.resistance });
 * ```
 */
export function wireRun(options: {
  readonly length: Length;
  readonly diameter: Length;
  readonly spacing: Length;
  readonly frequency?: Frequency | undefined;
  readonly temperature?: Temperature | undefined;
  readonly material?: Conductor | undefined;
}): WireRun {
  const caller = "wireRun";
  checkOptions(caller, options, ["length", "diameter", "spacing", "frequency", "temperature", "material"]);
  const length = inSi(caller, "length", options?.length, "m", { above: 0 });
  const diameter = inSi(caller, "diameter", options.diameter, "m", { above: 0, max: 1e6 });
  const spacing = inSi(caller, "spacing", options.spacing, "m", { above: 0 });
  if (spacing < diameter)
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "spacing" must be at least the diameter of ${diameter} m, got ${spacing}`,
      "It is counted from centre to centre",
    );
  const { temperature = 20, material = "copper" } = options;
  const { permeability } = conductorAt(caller, material, temperature);
  const skin = skinEffect({ diameter, frequency: options.frequency ?? 0, temperature, material });
  return positiveResults(caller, {
    resistance: 2 * wireResistance({ diameter, length, temperature, material }) * skin.resistanceRatio,
    inductance:
      (VACUUM_PERMEABILITY / Math.PI)
      * length
      * (Math.log(2) + Math.log(spacing) - Math.log(diameter) + (permeability / 4) * skin.inductanceRatio),
  });
}
