import type { units } from "./units";

type Table = typeof units;
type Micro = "\u00b5" | "\u03bc" | "u";
type Ohm = "\u03a9" | "\u2126" | "ohm";
type Spelled<S extends string> = S extends `\u00b5${infer Rest}`
  ? `${Micro}${Rest}`
  : S extends `${infer Prefix}\u03a9`
    ? `${Prefix}${Ohm}`
    : S;

/** Text with a number, at most one space, and a symbol of the unit. */
export type QuantityText<U extends keyof typeof units> = `${number}${"" | " "}${Spelled<keyof Table[U]["suffixes"] & string>}`;

type CodeLetter = "R" | "K" | "k" | "M";

/** The marking of a resistor after IEC 60062: `"4R7"`, `"R47"`, `"47R"`, `"2k2"`, `"4K7"`, `"1M0"`. */
export type ResistanceCode = `${number}${CodeLetter}` | `${number}${CodeLetter}${number}` | `${CodeLetter}${number}`;

/** A resistance with its unit, or a resistor's marking: `"4.7 Ω"`, `"4.7 ohm"`, `"22 mΩ"`, `"4R7"`. */
export type ResistanceText = QuantityText<"Ω"> | ResistanceCode;
/** An inductance with its unit: `"0.47 mH"`, `"45 µH"`. */
export type InductanceText = QuantityText<"H">;
/** A capacitance with its unit: `"6.8 µF"`, `"220 nF"`; `mF` is millifarad. */
export type CapacitanceText = QuantityText<"F">;
/** A frequency with its unit: `"80 Hz"`, `"2.5 kHz"`. */
export type FrequencyText = QuantityText<"Hz">;
/** A length with its unit: `"25 mm"`, `"1.2 m"`. */
export type LengthText = QuantityText<"m">;
/** A time with its unit: `"1.5 ms"`. */
export type TimeText = QuantityText<"s">;
/** A voltage with its unit: `"2.83 V"`. */
export type VoltageText = QuantityText<"V">;
/** A current with its unit: `"350 mA"`. */
export type CurrentText = QuantityText<"A">;
/** A power with its unit: `"50 W"`. */
export type PowerText = QuantityText<"W">;
/** A mass with its unit: `"12.5 g"`. */
export type MassText = QuantityText<"kg">;
/** A pressure with its unit: `"101.3 kPa"`. */
export type PressureText = QuantityText<"Pa">;
/** An area with its unit: `"132 cm²"`, `"132 cm2"`. */
export type AreaText = QuantityText<"m²">;
/** A volume with its unit: `"18 L"`, `"0.018 m³"`. */
export type VolumeText = QuantityText<"m³">;
/** A temperature in degrees Celsius: `"20 °C"`. */
export type TemperatureText = QuantityText<"°C">;

/** A resistance: a number in Ω, or text with its unit. */
export type Resistance = number | ResistanceText;
/** An inductance: a number in H, or text with its unit. */
export type Inductance = number | InductanceText;
/** A capacitance: a number in F, or text with its unit. */
export type Capacitance = number | CapacitanceText;
/** A frequency: a number in Hz, or text with its unit. */
export type Frequency = number | FrequencyText;
/** A length: a number in m, or text with its unit. */
export type Length = number | LengthText;
/** A time: a number in s, or text with its unit. */
export type Time = number | TimeText;
/** A voltage: a number in V, or text with its unit. */
export type Voltage = number | VoltageText;
/** A current: a number in A, or text with its unit. */
export type Current = number | CurrentText;
/** A power: a number in W, or text with its unit. */
export type Power = number | PowerText;
/** A mass: a number in kg, or text with its unit. */
export type Mass = number | MassText;
/** A pressure: a number in Pa, or text with its unit. */
export type Pressure = number | PressureText;
/** An area: a number in m², or text with its unit. */
export type Area = number | AreaText;
/** A volume: a number in m³, or text with its unit. */
export type Volume = number | VolumeText;
/** A temperature: a number in °C, or text with its unit. */
export type Temperature = number | TemperatureText;
