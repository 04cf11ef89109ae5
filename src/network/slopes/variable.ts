/** One value of the network that an objective can be asked for. */
export interface Variable {
  /** Designator. */
  readonly part: string;
  /** `"resistance"`, `"inductance"`, `"dcr"`, `"capacitance"`, `"esr"`, `"dissipationFactor"`; of a driver `"re"`, `"fs"` and so on. */
  readonly parameter: string;
  /** SI, as in the network. */
  readonly value: number;
}
