import { DividingNetworkError } from "../errors";
import { checkNumber, checkOptions } from "../errors/internal";
import type { Air } from "../physics";
import { checkAir } from "../physics/internal";
import type { Area, Frequency, Mass, Resistance, Volume } from "../quantity";
import { inSi } from "../quantity/internal";
import { positiveResults } from "./positive-results";

/** Mechanical constants found from electrical measurements. */
export interface MechanicalParameters {
  /** kg */
  readonly mms: number;
  /** m/N */
  readonly cms: number;
  /** N·s/m */
  readonly rms: number;
  /** T·m */
  readonly bl: number;
  /** m³ */
  readonly vas: number;
}

/** What both methods need to know. */
export interface FreeAirParameters {
  /** Ω */
  readonly re: Resistance;
  /** Hz: resonance in free air. */
  readonly fs: Frequency;
  /** Mechanical Q in free air, dimensionless. */
  readonly qms: number;
  /** Electrical Q in free air, dimensionless. */
  readonly qes: number;
  /** m²: effective area. */
  readonly sd: Area;
  /** The air: `{ temperature, humidity, pressure }` in °C, % and Pa, or `{ speedOfSound, density }` in m/s and kg/m³; default dry, 20 °C. */
  readonly air?: Air | undefined;
}

const names = ["re", "fs", "qms", "qes", "sd", "air"];

/**
 * Mechanical constants in SI, with Vas in m³, from the resonance with and without a known mass on the cone.
 *
 * $$M_{ms} = \frac{m}{(f_s/f_s')^2 - 1}, \qquad C_{ms} = \frac{1}{(2\pi f_s)^2 M_{ms}}, \qquad V_{as} = \rho c^2 S_d^2 C_{ms}$$
 *
 * @param options `re` in Ω, `fs` and `fsWithMass` in Hz, `addedMass` in kg, `sd` in m², Q dimensionless; text with units where it can be
 * @returns mms in kg, cms in m/N, rms in N·s/m, bl in T·m, vas in m³
 * @throws DividingNetworkError `invalid-argument`; `undetermined` when the resonance did not fall; `overflow`
 * Validity: the mass is firm on the cone and moves fs down by 20 to 50 %.
 * Source: after Thiele (1971).
 * @example
 * ```ts
 * import { parametersFromAddedMass } from "dividing-network/parts";
 *
 * parametersFromAddedMass({ re: 6, fs: 50, qms: 4, qes: 0.5, sd: "135 cm²", addedMass: "15 g", fsWithMass: 50 / Math.SQRT2 }).mms; // 0.015
 * ```
 */
export function parametersFromAddedMass(
  options: FreeAirParameters & { readonly addedMass: Mass; readonly fsWithMass: Frequency },
): MechanicalParameters {
  const caller = "parametersFromAddedMass";
  const given = checkOptions(caller, options, [...names, "addedMass", "fsWithMass"]);
  const known = readKnown(caller, given);
  const mass = inSi(caller, "addedMass", given.addedMass, "kg", { above: 0 });
  const lower = inSi(caller, "fsWithMass", given.fsWithMass, "Hz", { above: 0 });
  if (lower >= known.fs)
    throw new DividingNetworkError(
      "undetermined",
      `${caller}: "fsWithMass" must be below "fs", ${known.fs} Hz, got ${lower} Hz`,
      "A mass lowers the resonance; check that it sits firmly",
    );
  // m / ((fs/fs')² − 1) without the loss of digits where the two are close.
  const mms = mass * (lower / (known.fs - lower)) * (lower / (known.fs + lower));
  return fromCompliance(caller, known, 1 / ((2 * Math.PI * known.fs) ** 2 * mms));
}

/**
 * Mechanical constants in SI, with Vas in m³, from the resonance in free air and in a closed box of known volume.
 *
 * $$V_{as} = V_b \left( \frac{f_c\, Q_{ec}}{f_s\, Q_{es}} - 1 \right)$$
 *
 * The form with both Q holds also when the air load on the cone is not the same in the box as outside; without `qec` it is
 * $V_b ((f_c/f_s)^2 - 1)$.
 *
 * @param options `re` in Ω, `fs` and `fc` in Hz, `volume` in m³, `sd` in m², Q dimensionless; text with units where it can be
 * @returns mms in kg, cms in m/N, rms in N·s/m, bl in T·m, vas in m³
 * @throws DividingNetworkError `invalid-argument`; `undetermined` when the box did not raise the resonance; `overflow`
 * Validity: a tight box without filling.
 * Source: after Small (1972), closed-box systems.
 * @example
 * ```ts
 * import { parametersFromKnownVolume } from "dividing-network/parts";
 *
 * parametersFromKnownVolume({ re: 6, fs: 50, qms: 4, qes: 0.5, sd: "135 cm²", volume: "10 L", fc: 100, qec: 1 }).vas; // 0.03
 * ```
 */
export function parametersFromKnownVolume(
  options: FreeAirParameters & { readonly volume: Volume; readonly fc: Frequency; readonly qec?: number | undefined },
): MechanicalParameters {
  const caller = "parametersFromKnownVolume";
  const given = checkOptions(caller, options, [...names, "volume", "fc", "qec"]);
  const known = readKnown(caller, given);
  const volume = inSi(caller, "volume", given.volume, "m³", { above: 0 });
  const fc = inSi(caller, "fc", given.fc, "Hz", { above: 0 });
  const ratio = fc / known.fs;
  const stiffening = given.qec === undefined ? ratio ** 2 : ratio * (checkNumber(caller, "qec", given.qec, { above: 0 }) / known.qes);
  if (!(stiffening > 1))
    throw new DividingNetworkError(
      "undetermined",
      `${caller}: the box must stiffen the suspension, got ${stiffening} times`,
      "Check fc, qec and that the box is tight",
    );
  const vas = volume * (stiffening - 1);
  return fromCompliance(caller, known, vas / (known.rho * known.c ** 2 * known.sd ** 2));
}

function readKnown(caller: string, given: FreeAirParameters) {
  const { density, speedOfSound } = checkAir(caller, given.air);
  return {
    re: inSi(caller, "re", given.re, "Ω", { above: 0 }),
    fs: inSi(caller, "fs", given.fs, "Hz", { above: 0 }),
    qms: checkNumber(caller, "qms", given.qms, { above: 0 }),
    qes: checkNumber(caller, "qes", given.qes, { above: 0 }),
    sd: inSi(caller, "sd", given.sd, "m²", { above: 0 }),
    rho: density,
    c: speedOfSound,
  };
}

function fromCompliance(caller: string, { re, fs, qms, qes, sd, rho, c }: ReturnType<typeof readKnown>, cms: number): MechanicalParameters {
  const omega = 2 * Math.PI * fs;
  const mms = 1 / (omega ** 2 * cms);
  return positiveResults(caller, {
    mms,
    cms,
    rms: (omega * mms) / qms,
    bl: Math.sqrt((omega * mms * re) / qes),
    vas: rho * c ** 2 * sd ** 2 * cms,
  });
}
