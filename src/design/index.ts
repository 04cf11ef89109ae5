export { chooseValues, type CandidateFor, type ChooseValuesOptions, type ChosenValues, type DriverPolarity } from "./choose-values";
export { type ChooseValuesProgress } from "./question";
export { mergeShards } from "./merge-shards";
export { type Shard } from "./shard";
export { identify, type Identified, type IdentifiedValue, type IdentifyOptions } from "./identify";
export { type AlikeValues } from "./alike-directions";
export { redesign, type Redesign, type RedesignOptions, type RedesignProgress } from "./redesign";
export { type Redesigned } from "./redesigned";
export { type CoilLaw } from "./series-parts";
