export { checkNumber, checkOneOf, checkOptions, show, type Given, type NumberRange } from "./checks";
export { DividingNetworkError, errorFromIssues, type Issue } from "./error";
export { owned } from "./owned";
export { saidBy } from "./said-by";
export { listed, shown, type Views } from "./shown";
