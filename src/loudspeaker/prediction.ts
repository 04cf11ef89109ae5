import type { Entries, Sweep } from "../network";
import type { FrequencyResponse } from "../response";
import type { Loudspeaker, Place } from "./loudspeaker-data";

/** What reaches one place. */
export interface PressureAtPlace extends Place {
  /** Pa, all drivers together; over the part of the prediction's frequencies that every driver's measurement covers at this place. */
  readonly sum: FrequencyResponse;
  /** Pa, each driver through the network, by the driver's name. */
  readonly branches: Readonly<Record<string, FrequencyResponse>>;
}

/** What a loudspeaker does on a grid of frequencies. */
export interface Prediction<T extends Entries = Entries> {
  /** What was predicted. */
  readonly loudspeaker: Loudspeaker<T>;
  /** Hz, strictly ascending. */
  readonly frequencies: Float64Array;
  /** V rms, open-circuit voltage of the source. */
  readonly voltage: number;
  /** The network's solution: voltages and currents per volt, impedance in Ω. */
  readonly sweep: Sweep<T>;
  /** The pressure at each place, in the order asked for. */
  readonly places: readonly PressureAtPlace[];
}
