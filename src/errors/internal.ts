// What other floors use and nobody outside needs.
export { isProven, proved } from "./proven";
