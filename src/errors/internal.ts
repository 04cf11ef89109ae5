// What other floors use and nobody outside needs.
export { isProven, proved, type ProvenKind } from "./proven";
export { checkList, checkNumbers, checkObject, computed, computedAll } from "./check-given";
export { checkNumber, checkOneOf, checkOptions, show, type Given, type NumberRange } from "./checks";
export { errorFromIssues } from "./error";
export { owned } from "./owned";
export { saidBy } from "./said-by";
export { listed, shown, type Views } from "./shown";
