import type { Goal, GoalOptions } from "../assessment";
import type { Stock, StockLine, StockPart } from "../parts";
import type { PreferredSeries, Resistance } from "../quantity";
import type { RobustOptions } from "./robust-data";
import type { TopologyChoice } from "./topology-choice-data";
import type { CoilLaw } from "./series-parts";

/** How far a redesign is. */
export interface RedesignProgress {
  /** Topologies looked at, dimensionless. */
  readonly done: number;
  /** Of how many, dimensionless. */
  readonly of: number;
  /** dB of the best network so far; Infinity before one was found. */
  readonly lossDb: number;
}

/** What `redesign` takes. */
export interface RedesignOptions {
  /** The goal, or its options: Hz, m, dB, degrees; default all that was measured, flat. */
  readonly goal?: Goal | GoalOptions | undefined;
  /** Preferred values that can be bought; default `"E12"`. */
  readonly series?: PreferredSeries | undefined;
  /** Parts that can be had, each as often as it is there, in place of a series: from `stock` or `readStockCsv` of `/parts`, or its lines. */
  readonly stock?: Stock | readonly (StockLine | StockPart)[] | undefined;
  /** Most that all parts may cost, in the stock's currency, dimensionless; what has no price isn't taken then. */
  readonly largestPrice?: number | undefined;
  /** How many loudspeakers are built from the stock, dimensionless; default 1. A pair needs every part twice; prices are those of one. */
  readonly units?: number | undefined;
  /** Most lines of the stock that stand in the place of one part, 1 or 2, dimensionless; default 1. With 2 a coil may be two in series, a capacitor two side by side, a resistor either. */
  readonly mostPieces?: 1 | 2 | undefined;
  /** Most parts beside the drivers, dimensionless; default 8. */
  readonly maxParts?: number | undefined;
  /**
   * dB: the front also holds networks that are louder by at least so much than all that are nearer with as few parts; each topology of the front is searched again for them, up to six times. Default: none; each
   * network's level is told of it. At least 0.1.
   */
  readonly levelStepDb?: number | undefined;
  /** Which drawings are looked at: elements of filters, and what is left out, such as `{ without: ["in series"] }`; default all that docs/design.md names. */
  readonly topologies?: TopologyChoice | undefined;
  /** Ω of a coil by its inductance in H; default 0.35 Ω at 1 mH, rising with the power 0.6 (a choice, no source). */
  readonly coilResistance?: CoilLaw | undefined;
  /** Ω by which the loudspeaker is sold: 80 % of it is then the smallest |Z|, unless the goal states another. */
  readonly ratedImpedance?: Resistance | undefined;
  /** Where the goal states no frequencies: networks are searched by the loss of third-octave powers itself and not by plain levels first, so that it is proven of each what is proven with stated ones. It takes several times as long. */
  readonly prove?: boolean | undefined;
  /** Networks are chosen by what tolerances of parts and drivers do to them, and not as drawn alone: `{}` by the loss to be expected (docs/design.md); it takes two or three times as long. */
  readonly robust?: RobustOptions | undefined;
  /** Places (degrees) that the search doesn't look at: the loss there is told of each network, as a check. */
  readonly heldBack?: GoalOptions["places"] | undefined;
  /** Anything with an `aborted` flag, such as an `AbortSignal`: the front so far is then returned. */
  readonly signal?:
    | {
        /** True once it is to stop. */
        readonly aborted: boolean;
      }
    | undefined;
  /** Called after each topology: counts dimensionless, loss in dB. */
  readonly onProgress?: ((progress: RedesignProgress) => void) | undefined;
}
