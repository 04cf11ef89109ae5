export { degrees, radians } from "./angles";
export { amplitudeRatio, decibels } from "./decibels";
export { formatQuantity, type FormatOptions } from "./format-quantity";
export type { FrequencyBand } from "./frequency-band";
export { nearestPreferred, preferredAbove, preferredBelow } from "./nearest-preferred";
export { parseQuantity } from "./parse-quantity";
export { preferredValues, type PreferredSeries } from "./preferred-values";
export type {
  Area,
  AreaText,
  Capacitance,
  CapacitanceText,
  Current,
  CurrentText,
  Frequency,
  FrequencyText,
  Inductance,
  InductanceText,
  Length,
  LengthText,
  Mass,
  MassText,
  Power,
  PowerText,
  Pressure,
  PressureText,
  QuantityText,
  Resistance,
  ResistanceCode,
  ResistanceText,
  Temperature,
  TemperatureText,
  Time,
  TimeText,
  Voltage,
  VoltageText,
  Volume,
  VolumeText,
} from "./quantity-types";
export { type Unit } from "./units";
export { startWorking, type WorkingBuilder, type WorkingInputs } from "./working";
export type { Working, WorkingStep } from "./working-step";
export { workingMarkdown, workingText } from "./working-text";
export type { RelativeTolerance } from "./relative-tolerance";
