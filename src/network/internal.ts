// What other floors use and nobody outside needs.
export { GND, IN } from "./circuit";
export { entryFromJSON } from "./json/entry-json";
export { readPartJSON, type JsonComplaint, type PartReading, type ReadPartOptions } from "./json/read-part-json";
export { sameData } from "./same-data";
export { peakOf } from "./peak-of";
export { laidSpectrum, spectrumShares } from "./signal-spectrum";
export { sourceLaw } from "./solve/source-law";
export { writePartJSON } from "./json/write-part-json";
export { changer, type ChangedNetwork, type NodalChange } from "./solve/nodal-changes";
export { nodalSolution, type NodalSolution } from "./solve/nodal-solution";
export { sourceResponse, type SourceResponse } from "./solve/source";
export { deviations } from "./scatter/deviations";
export { ASSUMED_TOLERANCES, scatteringNames, tolerancedValues, type TolerancedValue } from "./scatter/toleranced-values";
export { varyingNetwork, type VaryingNetwork } from "./scatter/varying-network";
export { yieldOf } from "./scatter/yield";
