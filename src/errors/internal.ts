// What other floors use and nobody outside needs.
export { isProven, proved } from "./proven";
export { checkList, checkNumbers, checkObject, computed, computedAll } from "./check-given";
