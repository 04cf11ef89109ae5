export { checkNumber, checkOneOf, checkOptions, show, type NumberRange } from "./checks";
export { DividingNetworkError, errorFromIssues, type Issue } from "./error";
export { owned } from "./owned";
