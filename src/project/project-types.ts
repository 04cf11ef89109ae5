import type { PartJSON } from "../network";
import type { ProjectCoils } from "./project-coils";
import type { ProjectDriver } from "./project-driver";
import type { ProjectGoal } from "./project-goal";
import type { ProjectMeasurement } from "./project-measurement";
import type { ProjectRedesign } from "./project-redesign";
import type { ProjectSpread } from "./project-spread";

/** A part of a network with the nodes at its terminals, values in SI. A driver's impedance stands under `drivers`. */
export type ProjectPart = PartJSON<number>;

/** A network as it stands in a project file. */
export interface ProjectNetwork {
  /** Every part, with its nodes. */
  readonly parts: readonly ProjectPart[];
}

/** A project file after checking: plain frozen data, all quantities in SI. */
export interface Project {
  /** Of the file's format. */
  readonly version: 1;
  /** What the loudspeaker is called. */
  readonly name: string;
  /** What it is, in a sentence or two. */
  readonly description?: string;
  /** Ω. */
  readonly ratedImpedance: number;
  /** `temperature` in °C, relative `humidity` in % (absent: dry), `pressure` in Pa (absent: 101 325); absent: dry air at 20 °C. */
  readonly air?: {
    /** °C. */
    readonly temperature: number;
    /** % relative; absent: dry. */
    readonly humidity?: number;
    /** Pa; absent: 101 325. */
    readonly pressure?: number;
  };
  /** Ω and H: what stands between the ideal source and the loudspeaker's terminals. */
  readonly amplifier: {
    /** Ω: of the amplifier. */
    readonly outputResistance: number;
    /** Ω: both ways. */
    readonly cableResistance: number;
    /** H: of the cable. */
    readonly cableInductance: number;
  };
  /** Each driver, with its place and impedance. */
  readonly drivers: readonly ProjectDriver[];
  /** What was measured, and how. */
  readonly measurements: readonly ProjectMeasurement[];
  /** The networks that are compared. */
  readonly networks: {
    /** The network as found. */
    readonly found: ProjectNetwork;
    /** The network proposed. */
    readonly proposed: ProjectNetwork;
    /** A third one, in a column of its own: another proposal, say. */
    readonly alternative?: ProjectNetwork & {
      /** What the column is called. */
      readonly name: string;
    };
  };
  /** How the loudspeaker and its twin make a pair; with measurements of the twin alone. */
  readonly pair?: {
    /** Which of the two the project's drivers and networks are of; absent: the left one. */
    readonly measured?: "left" | "right";
    /** Whether they are built as mirror images; absent: no. */
    readonly mirrored?: boolean;
  };
  /** What the loudspeaker is meant to do: see `goal`; Hz, m, dB, degrees, Ω. `{ band }` alone is enough. */
  readonly goal?: ProjectGoal;
  /** What of drivers and parts scatters, beside the tolerances that parts state: see `spread`; dB, relative, s. */
  readonly spread?: ProjectSpread;
  /** The file of the parts that can be had: a table, or JSON where its name ends in `.json`. */
  readonly stock?: string;
  /** What the command's `--redesign` does: how many lines of the stock stand in the place of one part, dimensionless, and whether tolerances decide, dB. */
  readonly redesign?: ProjectRedesign;
  /** Windings of coils of the proposed network, and their board, m: the build sheet then says where each of them stands. */
  readonly coils?: ProjectCoils;
}
