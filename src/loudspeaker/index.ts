export { drivenBy, type DrivenBy } from "./driven-by";
export { loudspeaker, type DriverRole, type Loudspeaker, type LoudspeakerOptions, type PlacedDriver } from "./loudspeaker";
export { commonPlaces, type AskedPlace, type Place } from "./place";
export { type Plane } from "./plane-angle";
export { polarMapOf, type PolarMapOfOptions } from "./polar-map-of";
export { predict, pressureAtPlace, type PredictOptions, type Prediction, type PressureAtPlace } from "./predict";
export { pressurePerVolt, type MeasuredPressure, type PressurePerVolt } from "./pressure-per-volt";
export { sourcesOf, type SourcesOfOptions } from "./sources-of";
