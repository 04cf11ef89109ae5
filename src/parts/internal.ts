// What other floors use and nobody outside needs.
export { describePart } from "./describe-part";
