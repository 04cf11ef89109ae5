// What other floors use and nobody outside needs.
export { familyPrototype } from "./family";
export { flatterPolarity } from "./polarity";
