/** A value of a branch's law, by number. */
export interface BranchPlace {
  readonly branch: number;
  readonly index: number;
}

/** What links branches: the factor of a coupling, or the ratio of an ideal transformer, each by its number in the circuit. */
export type LinkPlace = { readonly coupling: number } | { readonly transformer: number };

/** A value of a network. */
export type Place = BranchPlace | LinkPlace;
