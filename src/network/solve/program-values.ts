/** A slot with a sign, or one of the two voltages that need none. */
export interface Value {
  readonly slot: number;
  readonly sign: 1 | -1;
}

/** Not slots: the voltage of the source itself, 1, and no voltage at all. */
export const ONE = -1;
export const NOTHING = -2;

/** Two nodes whose difference of voltage is asked for. */
export type OutputPair = readonly [a: number, b: number];

/** Which differences of voltage are needed for the pairs asked for, and for each other: by node, the other nodes. */
export type Demand = ReadonlyMap<number, ReadonlySet<number>>;

/** What of an elimination is needed later, by node. */
export interface Kept {
  readonly ratios: ReadonlySet<number>;
  /** 1/Σy. */
  readonly inverses?: ReadonlySet<number>;
  /** Of nodes with two neighbours that aren't inverted: what their elimination leaves between these. */
  readonly meshes?: ReadonlySet<number>;
  readonly admittance?: boolean;
}

/** A current that arrives at a node, later the voltage that it makes there; `shared`: the slot is needed by others too, and only read. */
export interface Injected {
  readonly slot: number;
  readonly shared: boolean;
}
