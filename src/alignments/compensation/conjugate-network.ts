import { DividingNetworkError } from "../../errors";
import { checkNumber, checkOptions } from "../../errors/internal";
import { capacitor, inductor, resistor, type Capacitor, type Inductor, type Resistor } from "../../parts";
import { startWorking, type Frequency, type Inductance, type Resistance, type Working } from "../../quantity";
import { inSi } from "../../quantity/internal";
import type { Branch } from "../branch";
import { checkFrequency, checkLoad } from "../filters/check-filter";
import { driverOptionsOf, type GivenDriver } from "./given-driver";
import { placedBranch, type Placements } from "./placed";

/** A driver whose impedance is to be made constant. */
export interface ConjugateOptions {
  /** Ω */
  readonly re: Resistance;
  /** H; default 0 H. */
  readonly le?: Inductance | undefined;
  /** Ω: lossy coil, a resistance across a second inductance. With `le2`. */
  readonly re2?: Resistance | undefined;
  /** H: lossy coil, the second inductance. With `re2`. */
  readonly le2?: Inductance | undefined;
  /** Hz: resonance in the enclosure in which the driver works. */
  readonly fs: Frequency;
  /** Mechanical Q at `fs`. */
  readonly qms: number;
  /** Electrical Q at `fs`. */
  readonly qes: number;
}

/** The parts of a conjugate network; which of the optional ones there are depends on the voice coil. */
export interface ConjugateShape {
  /** `r`, in series with all that follows; `rc` where the coil has no inductance. */
  readonly R1: readonly [Resistor, "from", "R1.a" | "R1.b"];
  /** `rm`; absent where it is part of `R1`. */
  readonly R2?: readonly [Resistor, "R1.a", "R1.b"];
  /** `lc`, in series with `C1`. */
  readonly L1: readonly [Inductor, "R1.b", "R1.c"];
  /** `cc`, in series with `L1`. */
  readonly C1: readonly [Capacitor, "R1.c", "to"];
  /** `c`; absent where the coil has no inductance. */
  readonly C2?: readonly [Capacitor, "R1.a", "to"];
  /** `r2`; absent where the coil has no losses. */
  readonly R3?: readonly [Resistor, "R1.a", "R1.d"];
  /** `c2`, in series with `R3`. */
  readonly C3?: readonly [Capacitor, "R1.d", "to"];
}

/** The network that makes a driver's impedance constant. */
export interface ConjugateNetwork {
  /** Ω: in series with all that follows, equal to Re. */
  readonly r: number;
  /** F: dual of the voice coil's inductance; undefined where that is 0. */
  readonly c: number | undefined;
  /** Ω: dual of the lossy coil's resistance; undefined where there is none. */
  readonly r2: number | undefined;
  /** F: dual of the lossy coil's second inductance, in series with `r2`. */
  readonly c2: number | undefined;
  /** Ω: dual of the mechanical losses, in series with `lc` and `cc`. */
  readonly rm: number;
  /** Ω: r + rm, the one resistor of the series circuit where the coil has no inductance. */
  readonly rc: number;
  /** H: dual of the moving mass. */
  readonly lc: number;
  /** F: dual of the compliance. */
  readonly cc: number;
  /** The network between the driver's nodes. */
  readonly branch: Branch<ConjugateShape>;
  /** How each number came about. */
  readonly working: Working;
}

const source = "dual network, after Leach (Introduction to Electroacoustics)";

/**
 * The exact conjugate network (Ω, H, F) of a moving-coil driver. With $Z = R_e + Z_x$, where $Z_x$ is voice coil plus
 * motional impedance, the network $R_e + R_e^2/Z_x$ across the driver makes the whole $R_e$ at every frequency.
 * $R_e^2/Z_x$ is the dual of $Z_x$: what is in series becomes parallel, $C = L_e/R_e^2$, and the parallel resonance
 * becomes a series circuit of $R_m = R_e Q_{es}/Q_{ms}$, $L_c = R_e Q_{es}/\omega_s$, $C_c = 1/(\omega_s R_e Q_{es})$.
 * The usual pair of separate branches is only near: see `approximateConjugate`.
 *
 * @param driver `re` (Ω), `le` (H), `re2` (Ω) with `le2` (H), `fs` (Hz), `qms`, `qes` (dimensionless); or a driver: from `driverImpedance`,
 *   what `driverParameters` found, or a measured impedance in Ω, which is fitted with the coil $j\omega L_e + R_{e2} \parallel j\omega L_{e2}$
 * @returns parts (Ω, H, F), fragment and working
 * @throws DividingNetworkError `invalid-argument`, `invalid-quantity`, `unknown-option`; `not-realizable` for a coil $K(j\omega)^n$,
 *   `undetermined` where a measurement shows no peak
 * @example
 * ```ts
 * import { conjugateNetwork } from "dividing-network/alignments";
 *
 * const network = conjugateNetwork({ re: 6, fs: 50, qms: 4, qes: 0.5 });
 * network.rc; // 6.75
 * network.lc; // 0.00954929659
 * ```
 */
export function conjugateNetwork(driver: ConjugateOptions | GivenDriver): ConjugateNetwork {
  const caller = "conjugateNetwork";
  const given = checkDriver(caller, conjugable(caller, driver));
  const { re: Re, le: Le, fs, qms, qes } = given;
  const steps = startWorking();
  const over = (symbol: string, tex: string, inductance: number, letter: string) =>
    steps.step(
      symbol,
      "F",
      { formula: `${letter} / Re²`, tex: `${tex} = \\frac{${letter === "Le" ? "L_e" : "L_{e2}"}}{R_e^2}`, source },
      { [letter]: [inductance, "H"], Re: [Re, "Ω"] } as const,
      (v) => v[letter]! / v["Re"] ** 2,
    );
  const r = steps.step("R", "Ω", { formula: "Re", tex: "R = R_e", source }, { Re: [Re, "Ω"] }, (v) => v.Re);
  const c = Le === 0 ? undefined : over("C", "C", Le, "Le");
  const r2 =
    given.re2 === undefined
      ? undefined
      : steps.step(
          "R2",
          "Ω",
          { formula: "Re² / Re2", tex: "R_2 = \\frac{R_e^2}{R_{e2}}", source },
          { Re: [Re, "Ω"], Re2: [given.re2, "Ω"] },
          (v) => v.Re ** 2 / v.Re2,
        );
  const c2 = given.le2 === undefined ? undefined : over("C2", "C_2", given.le2, "Le2");
  const inputs = { Re: [Re, "Ω"], fs: [fs, "Hz"], Qes: [qes, ""] } as const;
  const rm = steps.step(
    "Rm",
    "Ω",
    { formula: "Re Qes / Qms", tex: "R_m = R_e\\frac{Q_{es}}{Q_{ms}}", source },
    { Re: [Re, "Ω"], Qes: [qes, ""], Qms: [qms, ""] },
    (v) => (v.Re * v.Qes) / v.Qms,
  );
  const rc = steps.step(
    "Rc",
    "Ω",
    { formula: "R + Rm", tex: "R_c = R + R_m", source: "derived here: resistors in series" },
    { R: [r, "Ω"], Rm: [rm, "Ω"] },
    (v) => v.R + v.Rm,
  );
  const lc = steps.step(
    "Lc",
    "H",
    { formula: "Re Qes / (2π fs)", tex: "L_c = \\frac{R_e Q_{es}}{2\\pi f_s}", source },
    inputs,
    (v) => (v.Re * v.Qes) / (2 * Math.PI * v.fs),
  );
  const cc = steps.step(
    "Cc",
    "F",
    { formula: "1 / (2π fs Re Qes)", tex: "C_c = \\frac{1}{2\\pi f_s R_e Q_{es}}", source },
    inputs,
    (v) => 1 / (2 * Math.PI * v.fs * v.Re * v.Qes),
  );
  const plain = c === undefined && r2 === undefined;
  const placements: Placements<ConjugateShape> = {
    ...(plain ? { R1: [resistor(rc), "from", "R1.b"] } : { R1: [resistor(r), "from", "R1.a"], R2: [resistor(rm), "R1.a", "R1.b"] }),
    L1: [inductor(lc), "R1.b", "R1.c"],
    C1: [capacitor(cc), "R1.c", "to"],
    ...(c === undefined ? {} : { C2: [capacitor(c), "R1.a", "to"] }),
    ...(r2 === undefined || c2 === undefined ? {} : { R3: [resistor(r2), "R1.a", "R1.d"], C3: [capacitor(c2), "R1.d", "to"] }),
  };
  return Object.freeze({ r, c, r2, c2, rm, rc, lc, cc, branch: placedBranch(`${caller}.branch`, placements), working: steps.done() });
}

/** The parameters of what was given, unless it is a driver whose coil has no dual. */
function conjugable(caller: string, driver: ConjugateOptions | GivenDriver): ConjugateOptions {
  const given = driverOptionsOf(caller, driver, "parallel");
  if (given !== driver && typeof given === "object" && given !== null && "k" in given) {
    throw new DividingNetworkError(
      "not-realizable",
      `${caller}: "driver" must have a coil of inductances and a resistance, got K(jω)ⁿ, which has no exact dual of finite size`,
      'Fit the measurement with driverParameters(impedance, { coil: "parallel" }), or use lossyZobel for the coil',
    );
  }
  return given as ConjugateOptions;
}

/** Checks the driver of a conjugate network. */
export function checkDriver(caller: string, options: ConjugateOptions) {
  const given = checkOptions(caller, options, ["re", "le", "re2", "le2", "fs", "qms", "qes"]);
  if ((given.re2 === undefined) !== (given.le2 === undefined)) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "re2" and "le2" must be given together`,
      "A coil described by k and n has no exact dual of finite size: use lossyZobel for it",
    );
  }
  return {
    re: checkLoad(caller, "re", given.re),
    le: given.le === undefined ? 0 : inSi(caller, "le", given.le, "H", { min: 0, max: 1e3 }),
    re2: given.re2 === undefined ? undefined : checkLoad(caller, "re2", given.re2),
    le2: given.le2 === undefined ? undefined : inSi(caller, "le2", given.le2, "H", { min: 1e-12, max: 1e3 }),
    fs: checkFrequency(caller, "fs", given.fs),
    qms: checkNumber(caller, "qms", given.qms, { min: 1e-3, max: 1e3 }),
    qes: checkNumber(caller, "qes", given.qes, { min: 1e-3, max: 1e3 }),
  };
}
