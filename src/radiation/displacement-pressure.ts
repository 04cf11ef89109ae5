import { DividingNetworkError } from "../errors";
import { checkOneOf, checkOptions } from "../errors/internal";
import { REFERENCE_PRESSURE, type Air } from "../physics";
import { checkAir, simpleSourcePressure, volumeAcceleration } from "../physics/internal";
import { startWorking, type Area, type Frequency, type Length, type Working } from "../quantity";
import { inSi } from "../quantity/internal";

/** What `displacementPressure` gives. */
export interface DisplacementPressure {
  /** m³/s², peak. */
  readonly volumeAcceleration: number;
  /** Pa, root mean square. */
  readonly pressure: number;
  /** dB re 20 µPa. */
  readonly levelDb: number;
  /** How each number came about. */
  readonly working: Working;
}

/** Options of `displacementPressure`. */
export interface DisplacementOptions {
  /** Effective area, m². */
  readonly area: Area;
  /** m, peak, one way. */
  readonly displacement: Length;
  /** Hz, above 0. */
  readonly frequency: Frequency;
  /** m; default 1. */
  readonly distance?: Length | undefined;
  /** Into which the source radiates: half a space, as in a baffle (default), or a whole one. */
  readonly space?: "half" | "full" | undefined;
  /** The air: `{ temperature, humidity, pressure }` in °C, % and Pa, or `{ speedOfSound, density }` in m/s and kg/m³; default dry, 20 °C. */
  readonly air?: Air | undefined;
}

/**
 * Pressure of a small source from its displacement: root mean square in Pa, and its level in dB re 20 µPa. $\hat p = \rho S\omega^2\hat
 * x/(\Omega r)$ with Ω = 2π (half space) or 4π. Also the factor that turns the fields of sources at unit drive (1/m) into Pa: ρA/Ω.
 *
 * @param options area in m², peak displacement in m, frequency in Hz, distance in m, and the air
 * @returns volume acceleration in m³/s² (peak), pressure in Pa, level in dB, and the working
 * @throws DividingNetworkError when an option is missing, unknown or out of range; `overflow` when no number can hold the pressure
 * @example
 * ```ts
 * import { displacementPressure } from "dividing-network/radiation";
 *
 * displacementPressure({ area: "132 cm²", displacement: "1 mm", frequency: 50, air: { density: 1.2 } }).levelDb; // 78.886601
 * ```
 */
export function displacementPressure(options: DisplacementOptions): DisplacementPressure {
  const caller = "displacementPressure";
  const given = checkOptions(caller, options, ["area", "displacement", "frequency", "distance", "space", "air"]);
  const S = inSi(caller, "area", given.area, "m²", { above: 0 });
  const x = inSi(caller, "displacement", given.displacement, "m", { min: 0 });
  const f = inSi(caller, "frequency", given.frequency, "Hz", { min: 0 });
  const r = inSi(caller, "distance", given.distance ?? 1, "m", { above: 0 });
  const rho = checkAir(caller, given.air).density;
  const solidAngle = checkOneOf(caller, "space", given.space ?? "half", ["half", "full"]) === "half" ? 2 * Math.PI : 4 * Math.PI;
  const working = startWorking();
  const source = "derived here: a small source in free or half space";
  const A = working.step(
    "A",
    "m³/s²",
    { formula: "S (2π f)² x", tex: "\\hat A = S(2\\pi f)^2\\hat x", source },
    { S: [S, "m²"], f: [f, "Hz"], x: [x, "m"] },
    ({ S, f, x }) => volumeAcceleration(S, f, x),
  );
  const pressure = working.step(
    "p",
    "Pa",
    { formula: "ρ A / (√2 Ω r)", tex: "p = \\frac{\\rho \\hat A}{\\sqrt{2}\\,\\Omega r}", source },
    { ρ: [rho, "kg/m³"], A: [A, "m³/s²"], Ω: [solidAngle, "sr"], r: [r, "m"] },
    ({ ρ, A, Ω, r }) => simpleSourcePressure(ρ, A, Ω, r),
  );
  const levelDb = working.step(
    "L",
    "dB",
    { formula: "20 lg(p / p₀)", tex: "L = 20\\lg\\frac{p}{p_0}", source: "definition of the decibel" },
    { p: [pressure, "Pa"], "p₀": [REFERENCE_PRESSURE, "Pa"] },
    (v) => 20 * Math.log10(v.p / v["p₀"]),
  );
  for (const [what, value] of [
    ["volume acceleration", A],
    ["pressure", pressure],
  ] as const) {
    if (!Number.isFinite(value))
      throw new DividingNetworkError(
        "overflow",
        `${caller}: the ${what} must be a finite number, got ${value}`,
        "Check the units of area, displacement and frequency",
      );
  }
  return Object.freeze({ volumeAcceleration: A, pressure, levelDb, working: working.done() });
}
