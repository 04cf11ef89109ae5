export { redesignOnAllCores, type AllCoresOptions } from "./redesign-on-all-cores";
