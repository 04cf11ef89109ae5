import type { Voltage } from "../quantity";
import type { Entries, UncheckedEntries } from "./entries";
import type { PartName } from "./names";
import type { SignalSpectrum } from "./signal-spectrum";
import type { SourceImpedance } from "./solve/source";

/** What `stress` is asked for. */
export interface StressOptions {
  /** V rms of the largest sine that the amplifier gives, open circuit: √2 of it is its highest peak. */
  readonly voltage: Voltage;
  /** What is played. Default `"programme"`, the simulated programme of IEC 60268-1, from memory, not verified. */
  readonly spectrum?: SignalSpectrum | undefined;
  /**
   * The signal's peak over its rms, dimensionless, 1 or more; default 2, noise as clipped for tests of IEC 60268-5 (from memory, not verified). Music has 3 to 10
   * (common practice, no source). The signal's peaks reach the amplifier's: its rms is √2·voltage / crestFactor. A sine has its own, √2, whatever is said here.
   */
  readonly crestFactor?: number | undefined;
  /** Between the ideal source and `in`: Ω, `{ resistance, inductance }`, or a response in Ω; default none. */
  readonly sourceImpedance?: SourceImpedance | undefined;
}

/** Heat in one part, W: mean under the signal, and of the worst full sine with its frequency in Hz. */
export interface PowerStress {
  /** W, mean under the signal; of a sine, `sine`. */
  readonly mean: number;
  /** W with a full sine where it is worst. */
  readonly sine: number;
  /** Hz, where. */
  readonly frequency: number;
}

/** A voltage across a part (V), or a current through it (A). */
export interface AmplitudeStress {
  /** V or A rms under the signal; of a sine, where it is worst. */
  readonly rms: number;
  /** V or A: peak under the signal, its crest factor times the rms. A network may make the peaks of music a little higher or lower. */
  readonly peak: number;
  /** V or A: peak of a full sine where it is worst. */
  readonly sinePeak: number;
  /** Hz, where. */
  readonly frequency: number;
}

/** What one part has to stand. */
export interface PartStress {
  /** W of heat (a driver: heat and sound). */
  readonly power: PowerStress;
  /** V between its first two terminals. */
  readonly voltage: AmplitudeStress;
  /** A into its first terminal. */
  readonly current: AmplitudeStress;
  /** W in a driver's direct-current resistance alone, where its model states it. */
  readonly voiceCoil?: PowerStress;
}

/** What every part of a network has to stand. */
export interface Stress<T extends UncheckedEntries = Entries> {
  /** V rms of the amplifier's largest sine. */
  readonly voltage: number;
  /** V rms of the signal. */
  readonly signalVoltage: number;
  /** Peak over rms of the signal, dimensionless. */
  readonly crestFactor: number;
  /** Hz: the band of the signal, cut to where every measured impedance is known; the whole signal is taken to lie in it. */
  readonly band: {
    /** Hz. */
    readonly from: number;
    /** Hz. */
    readonly to: number;
  };
  /** By part. */
  readonly parts: Readonly<Record<PartName<T>, PartStress>>;
  /** W that the source gives: mean under the signal; of a sine, at its worst frequency. */
  readonly source: number;
  /** W lost in the source's impedance, likewise. */
  readonly sourceImpedance: number;
}
