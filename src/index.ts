export { DividingNetworkError, type Issue } from "./errors/index";
