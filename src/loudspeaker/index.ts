export { loudspeaker, type DriverRole, type Loudspeaker, type LoudspeakerOptions, type PlacedDriver } from "./loudspeaker";
export { commonPlaces, predict, pressureAtPlace, samePlace, type Place, type PredictOptions, type Prediction, type PressureAtPlace } from "./predict";
export { pressurePerVolt, type MeasuredPressure, type PressurePerVolt } from "./pressure-per-volt";
