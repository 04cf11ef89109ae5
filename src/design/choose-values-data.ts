import type { Goal, GoalOptions } from "../assessment";
import type { Entries, Network } from "../network";
import type { Capacitor, Inductor, LPad, Resistor, StockPart } from "../parts";
import type { Capacitance, Inductance, Resistance } from "../quantity";
import type { Stocked } from "./choices";
import type { ChooseValuesProgress } from "./question";
import type { RobustOptions, Robustness } from "./robust-data";
import type { AnsweredShard, Shard } from "./shard";

/** What may stand in the place of a part: a part of its kind, a line of a stock or a combination of such, its main value with the losses as drawn, nothing, or a wire. */
export type CandidateFor<P> = P extends Resistor
  ? Resistor | Stocked | Resistance | "open" | "short"
  : P extends Inductor
    ? Inductor | Stocked | Inductance | "open" | "short"
    : P extends Capacitor
      ? Capacitor | Stocked | Capacitance | "open" | "short"
      : P extends LPad
        ? LPad
        : never;

/** Whether a driver is connected as drawn, or the other way round. */
export type DriverPolarity = "same" | "reversed";

/** What `chooseValues` takes. */
export interface ChooseValuesOptions<T extends Entries = Entries> {
  /** The goal, or its options: Hz, m, dB, degrees. */
  readonly goal: Goal | GoalOptions;
  /** Candidates by designator: parts, main values in SI or as text with the unit, `"open"`, `"short"`. */
  readonly values: { readonly [N in keyof T]?: readonly CandidateFor<T[N][0]>[] | undefined };
  /** By the designator of a driver's part: as drawn (`"same"`, the default), the other way round, or whichever is better. */
  readonly polarity?: { readonly [N in keyof T]?: DriverPolarity | "either" | undefined } | undefined;
  /** Ω by which the loudspeaker is sold: 80 % of it is then the smallest |Z|, unless the goal states another or only stated limits hold. */
  readonly ratedImpedance?: Resistance | undefined;
  /** Most that all parts from a stock may cost together, in its currency, dimensionless; what has no price there isn't taken. Parts that are in no stock cost nothing. */
  readonly largestPrice?: number | undefined;
  /** Networks are chosen by what tolerances of parts and drivers do to them, and not as drawn alone: `{}` by the loss to be expected (docs/design.md). Not with `shard`. */
  readonly robust?: RobustOptions | undefined;
  /** Anything with an `aborted` flag, such as an `AbortSignal`: the best so far is then returned. */
  readonly signal?:
    | {
        /** True once it is to stop. */
        readonly aborted: boolean;
      }
    | undefined;
  /** One of several equal parts of the search, for a core or a machine of its own; `mergeShards` joins their answers. Only with the goal's `frequencies`. */
  readonly shard?: Shard | undefined;
  /** Called some ten times a second: losses in dB, the share settled dimensionless. */
  readonly onProgress?: ((progress: ChooseValuesProgress) => void) | undefined;
}

/** The best network of a space, and how certain that is. */
export interface ChosenValues {
  /** The loudspeaker's network with the parts chosen; what is open is left out, what is shorted is 0 Ω. */
  readonly network: Network;
  /** dB, as `lossOf` gives it. */
  readonly lossDb: number;
  /** dB: no network of the space that keeps the limits is better; 0 with `robust`. */
  readonly lowerBoundDb: number;
  /** Whether the two meet; with `robust`, whether every network was drawn from, as long as it could be the best, and none is better by that. */
  readonly proven: boolean;
  /** What loudspeakers drawn within the tolerances come to, by which the network was chosen; absent unless that was asked for. */
  readonly robust?: Robustness | undefined;
  /** How many networks there were, dimensionless. */
  readonly networks: number;
  /** How many pairs of (sets of) branch states were looked at, dimensionless. */
  readonly evaluated: number;
  /** Of which part of the search this is the answer; absent for a whole one. */
  readonly shard?: AnsweredShard | undefined;
  /** By designator, what is taken from a stock for it: one piece, or those of a combination; absent where no candidate is from one. */
  readonly taken?: Readonly<Record<string, readonly StockPart[]>> | undefined;
  /** Of each driver's part that was named. */
  readonly polarity: Readonly<Record<string, DriverPolarity>>;
}
