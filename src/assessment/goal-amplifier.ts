import { DividingNetworkError } from "../errors";
import { checkNumber, checkOptions, owned } from "../errors/internal";
import type { SignalSpectrum } from "../network";
import { laidSpectrum } from "../network/internal";
import type { Power, Resistance, Voltage } from "../quantity";
import { inSi } from "../quantity/internal";

/** What the amplifier bears, how much it gives, and what it plays. */
export interface GoalAmplifier {
  /** Ω: the least |Z|. */
  readonly smallestImpedance?: number;
  /** Ω: the least resistance that dissipates as much at its peak. */
  readonly smallestPeakDissipationResistance?: number;
  /** V rms of its largest sine; absent where neither it nor `power` is stated: then no rating is checked. */
  readonly voltage?: number;
  /** W of its largest sine into the rated impedance, in place of `voltage`. */
  readonly power?: number;
  /** What it plays; absent: simulated programme after IEC 60268-1, whose levels are from memory, not verified. */
  readonly spectrum?: SignalSpectrum;
  /** The signal's peak over its rms, dimensionless; absent: 2, clipped noise after IEC 60268-5 (from memory, not verified). */
  readonly crestFactor?: number;
}

/** The same, as it is taken in. */
export interface GoalAmplifierOptions {
  /** Ω: the least |Z|. */
  readonly smallestImpedance?: Resistance | undefined;
  /** Ω: the least resistance that dissipates as much at its peak. */
  readonly smallestPeakDissipationResistance?: Resistance | undefined;
  /** V rms of its largest sine; or `power`. Default not stated: then no rating is checked. */
  readonly voltage?: Voltage | undefined;
  /** W of its largest sine into the rated impedance; or `voltage`. */
  readonly power?: Power | undefined;
  /** What it plays: see `stress`; default `"programme"`. */
  readonly spectrum?: SignalSpectrum | undefined;
  /** The signal's peak over its rms, dimensionless; default 2. */
  readonly crestFactor?: number | undefined;
}

/** Which share of a rating may be used. */
export interface Derating {
  /** Of watts of resistors and L-pads, dimensionless. Default 0.5: cooler by half (common practice, no source). */
  readonly power: number;
  /** Of volts of capacitors, dimensionless. Default 0.8 (common practice, no source). */
  readonly voltage: number;
  /** Of amperes of coils, dimensionless. Default 0.8 (common practice, no source). */
  readonly current: number;
}

/** The amplifier of a goal. */
export function checkAmplifier(caller: string, value: GoalAmplifierOptions): GoalAmplifier {
  const { smallestImpedance, smallestPeakDissipationResistance, voltage, power, spectrum, crestFactor } = checkOptions(caller, value, [
    "smallestImpedance",
    "smallestPeakDissipationResistance",
    "voltage",
    "power",
    "spectrum",
    "crestFactor",
  ]);
  if (voltage !== undefined && power !== undefined)
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "amplifier.voltage" and "amplifier.power" state the same level, got both`,
      "Give one of them",
    );
  if (voltage === undefined && power === undefined && (spectrum !== undefined || crestFactor !== undefined))
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "amplifier" must state a level where it states what is played, got no voltage and no power`,
      'Write voltage: "20 V", or power: "50 W" into the rated impedance',
    );
  if (spectrum !== undefined) laidSpectrum(`${caller}: amplifier`, spectrum);
  return Object.freeze({
    ...(smallestImpedance === undefined
      ? {}
      : { smallestImpedance: inSi(caller, "amplifier.smallestImpedance", smallestImpedance, "Ω", { min: 0 }) }),
    ...(smallestPeakDissipationResistance === undefined
      ? {}
      : {
          smallestPeakDissipationResistance: inSi(
            caller,
            "amplifier.smallestPeakDissipationResistance",
            smallestPeakDissipationResistance,
            "Ω",
            { min: 0 },
          ),
        }),
    ...(voltage === undefined ? {} : { voltage: inSi(caller, "amplifier.voltage", voltage, "V", { above: 0, max: 1e6 }) }),
    ...(power === undefined ? {} : { power: inSi(caller, "amplifier.power", power, "W", { above: 0, max: 1e9 }) }),
    ...(spectrum === undefined ? {} : { spectrum: owned(spectrum) }),
    ...(crestFactor === undefined ? {} : { crestFactor: checkNumber(caller, "amplifier.crestFactor", crestFactor, { min: 1, max: 1000 }) }),
  });
}

/** Shares of ratings. */
export function checkDerating(caller: string, value: Partial<Record<keyof Derating, number | undefined>>): Derating {
  const { power = 0.5, voltage = 0.8, current = 0.8 } = checkOptions(caller, value, ["power", "voltage", "current"]);
  const share = (name: keyof Derating, given: number) => checkNumber(caller, `derating.${name}`, given, { above: 0, max: 1 });
  return Object.freeze({ power: share("power", power), voltage: share("voltage", voltage), current: share("current", current) });
}
