export { chooseValuesOnAllCores, type ChooseValuesOnAllCoresOptions } from "./choose-values-on-all-cores";
export { type WorkersOptions } from "./workers-options";
export { redesignOnAllCores, type AllCoresOptions } from "./redesign-on-all-cores";
