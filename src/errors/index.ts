export { DividingNetworkError, type Issue } from "./error";
