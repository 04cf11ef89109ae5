// What other floors use and nobody outside needs.
export { amplitudeExcess } from "./decibels";
export { inSi } from "./in-si";
export { relativeTolerance, toleranceText } from "./relative-tolerance";
export { markdownEscaped } from "./markdown-escaped";
export { bandInSi } from "./frequency-band";
export { capital, fewDigits, fixed, hertz, listOf, percent, signed } from "./words";
