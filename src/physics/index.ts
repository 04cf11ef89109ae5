export { airAbsorption, airDensity, speedOfSound, type AirConditions } from "./air";
export type { Air, StatedAir } from "./check-air";
export { DRIVE_VOLTAGE, REFERENCE_PRESSURE, SENSITIVITY_VOLTAGE, VACUUM_PERMEABILITY, VACUUM_PERMITTIVITY } from "./constants";
export { COPPER_DENSITY, copperResistivity } from "./copper";
export { pointInDirection, type Direction, type GivenPoint, type Point } from "./point";
