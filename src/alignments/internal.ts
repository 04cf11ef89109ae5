// What other floors use and nobody outside needs.
export { familyPrototype } from "./prototypes/family";
export { flatterPolarity } from "./crossovers/polarity";
