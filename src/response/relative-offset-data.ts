import type { Air } from "../physics";
import type { Frequency, Length } from "../quantity";
import type { FrequencyResponse } from "./sampled-function";

/** Three measurements at one microphone position, and how to read them. */
export interface RelativeOffsetOptions {
  /** One driver alone: its `minimumPhase`, or measured on one time zero with `second` (the offset is then what remains beyond that). */
  readonly first: FrequencyResponse;
  /** The other driver alone, same drive. */
  readonly second: FrequencyResponse;
  /** Both together; only its magnitude is used. */
  readonly both: FrequencyResponse;
  /** Hz: the band that is fitted, where both drivers are heard; default the whole. */
  readonly from?: Frequency | undefined;
  /** Hz: the upper end of the same band. */
  readonly to?: Frequency | undefined;
  /** How `second` was connected when both played; `"either"` (default) finds out. */
  readonly polarity?: "same" | "reversed" | "either" | undefined;
  /** m: largest offset looked for in either direction, default 0.3. */
  readonly largestOffset?: Length | undefined;
  /** The air: `{ temperature, humidity, pressure }` in °C, % and Pa, or `{ speedOfSound, density }` in m/s and kg/m³; default dry, 20 °C. */
  readonly air?: Air | undefined;
}

/** Depth of the dip that one polarity makes, for one offset. */
export interface NullDepth {
  /** m: offset for which it is computed. */
  readonly offset: number;
  /** Hz: where the dip is deepest. */
  readonly frequency: number;
  /** dB: level of the sum below the sum of the magnitudes there; positive. */
  readonly depthDb: number;
}

/** How much later one driver's sound arrives than the other's. */
export interface RelativeOffset {
  /** s: delay of `second` beyond what its own phase holds; positive when it is farther away. */
  readonly delay: number;
  /** m: the same as a distance. */
  readonly offset: number;
  /** s and m: one standard deviation, from the misfit; points taken as independent. */
  readonly delayUncertainty: number;
  /** m: the same as a distance. */
  readonly offsetUncertainty: number;
  /** How `second` was connected when both played. */
  readonly polarity: "same" | "reversed";
  /** Share, root mean square: misfit of the sum's magnitude re the louder driver. */
  readonly misfit: number;
  /** The next best answer, about a whole period away or of the other polarity: offset in m, and how many times larger its misfit is. Near 1 the two cannot be told apart. */
  readonly runnerUp:
    | {
        /** m. */
        readonly offset: number;
        /** The polarity that goes with it. */
        readonly polarity: "same" | "reversed";
        /** Its misfit over that of the answer, dimensionless. */
        readonly misfitRatio: number;
      }
    | undefined;
  /** The deepest dip of the opposite polarity at the offset found, and 5 mm before and behind it. */
  readonly nulls: readonly [atMinus5mm: NullDepth, atOffset: NullDepth, atPlus5mm: NullDepth];
}
