import type { DividingNetworkError } from "../errors";
import type { Loudspeaker } from "../loudspeaker";
import type { Combination, Sketch, Tried } from "./combinations";
import type { DriverFloor } from "./driver-floor";
import type { RedesignProgress } from "./redesign-options";
import type { PlainOptions } from "./redesign-request";
import type { Designed } from "./redesigned";
import type { Robustness } from "./robust-data";
import type { CoilLaw } from "./series-parts";

/** What looking at one topology gave: plain data, which may come from elsewhere. */
export interface Looked {
  /** Whether its search went to its end. */
  readonly complete: boolean;
  /** dB: no network that was looked through is below; Infinity where none keeps the limits. */
  readonly boundDb: number;
  /** How many networks were looked through, 0 where a stock holds nothing of some kind. */
  readonly networks: number;
  /** Whether candidates within the ranges were left out. */
  readonly thinned: boolean;
  /** The best network of it, where there is one below what was asked for. */
  readonly best?: {
    /** Indices of candidates: of all, then near the ones chosen, as often as it moved on. */
    readonly path: readonly (readonly number[])[];
    readonly turned: readonly string[];
    /** By what topologies are held against each other while they are looked at: dB by the search's own sum, or the rank of the drawn loudspeakers. */
    readonly nearDb: number;
    /** dB as `lossOf` gives it; Infinity where the true loss finds none that keeps the limits. */
    readonly lossDb: number;
    /** What drawn loudspeakers came to, where they decide. */
    readonly robust?: Robustness;
  };
}

/** A network that was found, before it is looked at closely. */
export interface Member {
  readonly parts: number;
  readonly lossDb: number;
  /** By what the front is made: the loss, or the rank of the drawn loudspeakers. */
  readonly rank: number;
  /** Infinity where the price of a part isn't known, or there is no stock. */
  readonly price: number;
  /** dB re 20 µPa: mean over the goal's places and band. */
  readonly levelDb: () => number;
  /** As it is handed over. */
  readonly whole: () => Designed;
}

/** All that a redesign needs to know before it begins. */
export interface RedesignPlan {
  readonly caller: string;
  /** What was asked for, checked: data alone, but for the law of coils. */
  readonly order: {
    readonly loudspeaker: Loudspeaker;
    readonly options: PlainOptions;
    readonly law: CoilLaw | undefined;
  };
  /** Whether the goal states frequencies, so that what is searched is the loss itself. */
  readonly exact: boolean;
  /** By what else than the loss as drawn networks are chosen. */
  readonly chosenBy: "loss" | "yield" | undefined;
  /** The usual topologies, from few parts to many. */
  readonly combinations: readonly Combination[];
  /** Topologies near the best of those tried. */
  readonly variations: (tried: readonly Tried[], before: readonly Combination[]) => readonly Combination[];
  /** Searches one topology for what is better than so many dB. */
  readonly look: (sketch: Sketch, below: number) => Promise<Looked>;
  readonly member: (combination: Combination, looked: Looked) => Member | undefined;
  /** By which step the front is to hold louder networks too, dB. */
  readonly levelStepDb: number | undefined;
  /** What is said where no topology has a network that keeps the limits. */
  readonly nothing: () => DividingNetworkError;
  /** Where the drivers limit, as far as that is known. */
  readonly floor: () => DriverFloor | undefined;
  readonly stopped: () => boolean;
  readonly onProgress: ((progress: RedesignProgress) => void) | undefined;
}
