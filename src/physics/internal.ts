// What other floors use and nobody outside needs.
export { checkAir, type CheckedAir } from "./check-air";
export { checkPoint, checkPoints, pointInSi, cosDegrees, sinDegrees } from "./point";
export { simpleSourcePressure, volumeAcceleration } from "./simple-source";
