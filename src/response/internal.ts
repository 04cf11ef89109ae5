// What other floors use and nobody outside needs.
export { checkedGrid } from "./checked-grid";
export { bandWithout } from "./marked-band";
export { freezeResponse } from "./frequency-response";
export { checkResponse } from "./check-response";
export { gridText, marksText } from "./views";
export { fileError, textFile, textLines, type TextFile } from "./text-file";
