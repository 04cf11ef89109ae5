export { compile, type CompiledNetwork, type SweepOptions } from "./compile";
export { diagnose, type NetworkIssue } from "./diagnose";
export type { Checked, CheckedFragment, Entries, Entry, Network, NodeName, PartName } from "./entries";
export { join } from "./join";
export { fragment, network } from "./network";
export { sumObjective, type ObjectiveOptions, type SumObjective, type Variable } from "./objective";
export { solve } from "./solve";
export { type SourceImpedance } from "./source";
export { type Sweep } from "./sweep";
