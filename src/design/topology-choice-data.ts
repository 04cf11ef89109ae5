/**
 * What a drawing may have in it: drivers in branches side by side (`"parallel"`), or one after the other (`"in series"`); a Zobel network; a resistor in series, or one in series and one across (`"divider"`); the resistors before
 * the filter; a capacitor that bridges a coil or a resistor; a trap; two woofers in series or one rolled off lower (`"pair"`).
 */
export type TopologyFeature =
  "parallel" | "in series" | "zobel" | "series resistor" | "divider" | "resistors first" | "bypass" | "trap" | "pair";

/** Which topologies a redesign looks at. */
export interface TopologyChoice {
  /** Elements that a filter may have, 1 to 4, dimensionless; default 1 to 3, and 4 as a variation of the best. A midrange's have at most 2, one of them 3 as a variation. */
  readonly orders?: readonly (1 | 2 | 3 | 4)[] | undefined;
  /** What no drawing may have in it; default nothing is left out. */
  readonly without?: readonly TopologyFeature[] | undefined;
}
