// What other floors use and nobody outside needs.
export { entryFromJSON } from "./entry-json";
export { readPartJSON, type JsonComplaint, type PartReading, type ReadPartOptions } from "./read-part-json";
export { writePartJSON } from "./write-part-json";
