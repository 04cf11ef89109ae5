export { DividingNetworkError, type Issue } from "./errors";
export {
  compile, diagnose, fragment, join, network, solve,
  type CompiledNetwork, type Entries, type Entry, type Network, type NetworkIssue, type NodeName, type PartName, type SourceImpedance, type Sweep, type SweepOptions,
} from "./network";
export {
  capacitor, coupling, driverImpedance, inductor, lPad, resistor, transformer,
  type Capacitor, type Coupling, type DriverImpedance, type DriverOptions, type Inductor, type LPad, type Part, type Resistor, type Transformer,
} from "./parts";
