// What other floors use and nobody outside needs.
export { checkLoudspeaker } from "./check-loudspeaker";
export { driversUnder } from "./driver-stress";
export { pressuresAt } from "./predict";
export { sameDirection, samePlace } from "./same-place";
