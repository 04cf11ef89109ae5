// What other floors use and nobody outside needs.
export { GND, IN } from "./circuit";
export { entryFromJSON } from "./entry-json";
export { readPartJSON, type JsonComplaint, type PartReading, type ReadPartOptions } from "./read-part-json";
export { sameData } from "./same-data";
export { peakOf } from "./peak-of";
export { laidSpectrum, spectrumShares } from "./signal-spectrum";
export { sourceLaw } from "./source-law";
export { writePartJSON } from "./write-part-json";
export { changer, nodalSolution, type ChangedNetwork, type NodalChange, type NodalSolution } from "./nodal-changes";
export { sourceResponse, type SourceResponse } from "./source";
export { percentile } from "./percentile";
export { deviations, seededRandom, type Random } from "./random";
export { ASSUMED_TOLERANCES, tolerancedValues, type TolerancedValue } from "./toleranced-values";
export { varyingNetwork, type VaryingNetwork } from "./varying-network";
export { yieldOf } from "./yield";
