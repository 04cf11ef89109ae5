import { DividingNetworkError } from "../../errors";
import { checkObject, checkOptions } from "../../errors/internal";
import { capacitor, driverImpedance, inductor, resistor, type Capacitor, type Inductor, type Resistor } from "../../parts";
import type { Frequency, Working } from "../../quantity";
import { checkBand } from "../filters/band-pass";
import type { Branch } from "../branch";
import { checkFrequency } from "../filters/check-filter";
import { checkDriver, conjugateNetwork, type ConjugateOptions } from "./conjugate-network";
import { flatness, type Flatness } from "./flatness";
import { driverOptionsOf, driverPartOf, type GivenDriver } from "./given-driver";
import { joinWorkings } from "./join-workings";
import { placedBranch } from "./placed";
import { zobel } from "./zobel";

/** Both branches between the same nodes. */
export interface ApproximateConjugateShape {
  /** `r`, in series with `C1`. */
  readonly R1: readonly [Resistor, "from", "R1.a"];
  /** `c`, against the voice coil. */
  readonly C1: readonly [Capacitor, "R1.a", "to"];
  /** `rc`, in series with `L1` and `C2`. */
  readonly R2: readonly [Resistor, "from", "R1.b"];
  /** `lc`, against the resonance. */
  readonly L1: readonly [Inductor, "R1.b", "R1.c"];
  /** `cc`, against the resonance. */
  readonly C2: readonly [Capacitor, "R1.c", "to"];
}

/** Two separate branches across a driver, one for the voice coil and one for the resonance. */
export interface ApproximateConjugate {
  /** Ω: in series with `c`. */
  readonly r: number;
  /** F: for the voice coil. */
  readonly c: number;
  /** Ω: in series with `lc` and `cc`. */
  readonly rc: number;
  /** H */
  readonly lc: number;
  /** F */
  readonly cc: number;
  /** |Z/Re − 1| of driver and both branches, at its worst between the frequencies asked for. */
  readonly error: Flatness;
  /** Both branches side by side, across the driver. */
  readonly branch: Branch<ApproximateConjugateShape>;
  /** How each number came about. */
  readonly working: Working;
}

/**
 * The usual two branches (Ω, H, F) in place of a driver's exact conjugate network: a Zobel network for the voice coil
 * and a series circuit for the resonance, each exact without the other. Together they are near where the resonance lies
 * far below the voice coil's corner; the error left is computed and stated. It costs one resistor more than the exact
 * network.
 *
 * @param driver `re` (Ω), `le` (H, above 0), `fs` (Hz), `qms`, `qes`; or a driver: from `driverImpedance`, what `driverParameters` found, or a
 *   measured impedance in Ω, to which a coil that is an inductance is fitted; the error is then that with the impedance as measured
 * @param band `from` and `to` in Hz: where the error is looked for, default 10 Hz to 20 kHz, as far as measured
 * @returns parts (Ω, H, F), error (dimensionless), fragment and working
 * @throws DividingNetworkError `invalid-argument`, `invalid-quantity`, `unknown-option`; `not-realizable` for a lossy coil, `undetermined` where a measurement shows no
 *   peak or no inductance, `outside-measured-band`
 * @example
 * ```ts
 * import { approximateConjugate } from "dividing-network/alignments";
 *
 * approximateConjugate({ re: 6, le: "0.5 mH", fs: 50, qms: 4, qes: 0.5 }).error.worst; // 0.0907
 * ```
 */
export function approximateConjugate(
  driver: Omit<ConjugateOptions, "re2" | "le2"> | GivenDriver,
  band: { readonly from?: Frequency | undefined; readonly to?: Frequency | undefined } = {},
): ApproximateConjugate {
  const caller = "approximateConjugate";
  const options = driverOptionsOf(caller, driver, "inductance");
  const own = options === driver;
  const { re, le, fs, qms, qes } = checkDriver(
    caller,
    own ? checkOptions(caller, options as ConjugateOptions, ["re", "le", "fs", "qms", "qes"]) : resonating(caller, options),
  );
  if (le === 0) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "le" must be a number above 0 H, got 0`,
      "Without it conjugateNetwork is exact with one branch",
    );
  }
  const part = own ? driverImpedance({ re, le, fs, qms, qes }) : driverPartOf(caller, driver);
  const measured = "response" in part ? part.response.frequencies : undefined;
  const asked = checkOptions(caller, band, ["from", "to"]);
  const from = checkFrequency(caller, "from", asked.from ?? Math.max(10, measured?.[0] ?? 0));
  const to = checkFrequency(caller, "to", asked.to ?? Math.min(20e3, measured?.[measured.length - 1] ?? Infinity));
  checkBand(caller, from, to);
  const coil = zobel({ re, le });
  const resonance = conjugateNetwork({ re, fs, qms, qes });
  const branch = placedBranch<ApproximateConjugateShape>(`${caller}.branch`, {
    R1: [resistor(coil.r), "from", "R1.a"],
    C1: [capacitor(coil.c), "R1.a", "to"],
    R2: [resistor(resonance.rc), "from", "R1.b"],
    L1: [inductor(resonance.lc), "R1.b", "R1.c"],
    C2: [capacitor(resonance.cc), "R1.c", "to"],
  });
  return Object.freeze({
    r: coil.r,
    c: coil.c,
    rc: resonance.rc,
    lc: resonance.lc,
    cc: resonance.cc,
    error: flatness(part, branch({ from: "in", to: "gnd" }), re, from, to),
    branch,
    working: joinWorkings([
      { label: "", working: coil.working },
      { label: "", working: resonance.working },
    ]),
  });
}

/** The parameters of a driver that was given as one, without the terms that it hasn't. */
function resonating(caller: string, given: object): ConjugateOptions {
  const driver = checkObject(caller, "driver", given, "a driver, its parameters or a measured impedance");
  if ("re2" in driver || "k" in driver) {
    throw new DividingNetworkError(
      "not-realizable",
      `${caller}: "driver" must have a coil that is an inductance, got a lossy one`,
      'Use conjugateNetwork for it, or fit the measurement with driverParameters(impedance, { coil: "inductance" })',
    );
  }
  const { re, le, fs, qms, qes } = driver as ConjugateOptions;
  return { re, le, fs, qms, qes };
}
