import type { NumberRange } from "../errors/internal";
import type { Unit } from "../quantity";
import type { FrequencyResponse } from "../response";
import type { DriverModel } from "./driver-model";
import type { Expansion } from "./law";

/** One symbol of a part's drawing: between two of its terminals, with its value in words. */
export interface PartSymbol {
  /** Behind the designator, where a part has several symbols; else `""`. */
  readonly suffix: string;
  readonly symbol: "resistor" | "inductor" | "capacitor" | "driver" | "box";
  /** As the trade writes it. */
  readonly value: string;
  readonly from: number;
  readonly to: number;
  /** Whether the first end carries a dot: always, or where the coil is coupled to another. */
  readonly dot?: "always" | "coupled";
}

/** One value of a part in JSON: a quantity where there is a unit, else a plain number; the range is in that unit. */
export interface PartField {
  readonly unit?: Unit;
  readonly optional?: boolean;
  /** A relative number, or text in percent. */
  readonly percent?: boolean;
  readonly range: NumberRange;
}

/**
 * What there is to know of a kind of part. Everybody outside this folder asks this and never the kind's name: a new kind is a file
 * here and a row in `kinds.ts`.
 */
export interface PartKind<P> {
  /** In a sentence behind "a": `"coil"`. */
  readonly noun: string;
  /** The function that makes one. */
  readonly maker: string;
  /** What its entry in a network names: the nodes at its terminals, or the coils that it couples. */
  readonly joins: "nodes" | "coils";
  /** Pairs of terminals that make nonsense of the part when they lie at one node; absent: the ends of each branch. */
  readonly apart?: readonly (readonly [number, number])[];
  /** Its branches, as the solver sees it; throws for what can't be such a part. */
  readonly expand: (part: P) => Expansion;
  /** What it is with its value, and what else it must keep. */
  readonly words: (part: P) => readonly [what: string, detail: string];
  readonly symbols: (part: P) => readonly PartSymbol[];
  /** Its terminals by name, in order, where it matters which is which. */
  readonly terminals?: (part: P) => readonly string[] | undefined;
  /** What a netlist says of it beside its elements, in ASCII. */
  readonly remark?: (part: P) => string;
  /** Whether it is there to turn power into heat. */
  readonly heats?: (part: P) => boolean;
  /** What no symbol can say, as a sentence behind the designator; `places` are the names in the part's entry. */
  readonly note?: (part: P, places: readonly string[]) => string;
  /** The one value that may be chosen freely, by the name of the part's property. */
  readonly main?: string;
  /** The one number that joins what no branch joins: the factor of a coupling, the ratio of an ideal transformer. Varies only where it is named. */
  readonly link?: (part: P) => "k" | "ratio" | undefined;
  /** Properties that describe its losses. */
  readonly losses?: readonly string[];
  /** What it is rated for, by the name of the property: W of heat, V peak, or A peak. */
  readonly rated?: "power" | "voltage" | "current";
  /** Whether it may be chosen among candidates: what it does hangs on no other part, and it is bought by its value. */
  readonly chosen?: boolean;
  /** The same part with another main value, its losses as they were; checks the value. */
  readonly withMain?: (part: P, value: number | string) => P;
  /** Whether a coupling may name it. */
  readonly coil?: boolean;
  /** The field in which it stores energy, where it is made to. */
  readonly stores?: "magnetic" | "electric";
  /** Whether it stands for a device that sounds: drawn as it is, not bought by a value. */
  readonly sounds?: boolean;
  /** Whether nothing changes when its two ends are exchanged, unless it is a coupled coil. */
  readonly turns?: boolean;
  /** Terminals that whoever builds may exchange by mistake, beside the two ends of a part that doesn't turn. */
  readonly mistaken?: readonly [number, number];
  /** Its impedance as it was measured, Ω. */
  readonly measured?: (part: P) => FrequencyResponse | undefined;
  /** Its parameters, where it is known by them. */
  readonly model?: (part: P) => DriverModel | undefined;
  /** Whether one tolerance for all main values makes no sense. */
  readonly toleranceByName?: boolean;
}
