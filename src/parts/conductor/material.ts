import { DividingNetworkError } from "../../errors";
import { checkNumber, checkOptions, show } from "../../errors/internal";
import { copperResistivity } from "../../physics";
import type { Temperature } from "../../quantity";
import { inSi } from "../../quantity/internal";

/** A conductor other than copper. */
export interface ConductorMaterial {
  /** Ω m at 20 °C, above 0. */
  readonly resistivity: number;
  /** 1/K at 20 °C; default 0. */
  readonly temperatureCoefficient?: number | undefined;
  /** Relative permeability, dimensionless, at least 0.9; default 1. */
  readonly relativePermeability?: number | undefined;
}

/** What a wire is made of. */
export type Conductor = "copper" | ConductorMaterial;

/**
 * Mild steel, as terminals, screws and fuse caps are made of: 0.15 µΩ m, 0.5 % per kelvin, a relative permeability of 200. Common practice, no
 * source, from memory: grades differ by a factor of two in resistivity, and permeability by ten, with the field as well.
 */
export const MILD_STEEL: ConductorMaterial = /* @__PURE__ */ Object.freeze({
  resistivity: 1.5e-7,
  temperatureCoefficient: 0.005,
  relativePermeability: 200,
});

/** Resistivity in Ω m at a temperature, and relative permeability. */
export function conductorAt(
  caller: string,
  material: Conductor = "copper",
  temperature: Temperature = 20,
): { readonly resistivity: number; readonly permeability: number } {
  const degrees = inSi(caller, "temperature", temperature, "°C", { min: -200, max: 1000 });
  if (material === "copper") return { resistivity: copperResistivity({ temperature: degrees }), permeability: 1 };
  if (typeof material !== "object" || material === null) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "material" must be "copper" or an object with a resistivity, got ${show(material)}`,
      "MILD_STEEL is one such object",
    );
  }
  const {
    resistivity,
    temperatureCoefficient = 0,
    relativePermeability = 1,
  } = checkOptions(caller, material, ["resistivity", "temperatureCoefficient", "relativePermeability"]);
  const cold = checkNumber(caller, "material.resistivity", resistivity, { above: 0, unit: "Ω m" });
  const slope = checkNumber(caller, "material.temperatureCoefficient", temperatureCoefficient, { min: -0.1, max: 0.1, unit: "1/K" });
  const permeability = checkNumber(caller, "material.relativePermeability", relativePermeability, { min: 0.9, max: 1e6 });
  const factor = 1 + slope * (degrees - 20);
  if (factor <= 0)
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "temperature" must leave the resistivity above 0 Ω m, got ${degrees} °C`,
      "The straight line of the coefficient doesn't reach so far",
    );
  return { resistivity: cold * factor, permeability };
}
