// What other floors use and nobody outside needs.
export { amplitudeExcess } from "./decibels";
export { inSi } from "./in-si";
export { markdownEscaped } from "./markdown-escaped";
export { bandInSi } from "./frequency-band";
