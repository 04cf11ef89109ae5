import { checkNumber, checkOptions } from "../errors/internal";
import { REFERENCE_PRESSURE, SENSITIVITY_VOLTAGE, type Air } from "../physics";
import { checkAir } from "../physics/internal";
import { startWorking, type Area, type Mass, type Resistance, type Working } from "../quantity";
import { inSi } from "../quantity/internal";
import { positiveResults } from "./positive-results";

/** Mechanical and electrical constants of a driver. */
export interface DriverConstants {
  /** Ω: resistance of the voice coil at zero frequency. */
  readonly re: Resistance;
  /** T·m: force factor. */
  readonly bl: number;
  /** kg: moving mass with its air load. */
  readonly mms: Mass;
  /** m/N: compliance of the suspension. */
  readonly cms: number;
  /** N·s/m: mechanical losses. */
  readonly rms: number;
  /** m²: effective area. */
  readonly sd: Area;
  /** Ω into which 1 W is reckoned for `sensitivity.for1WDb`; default Re. */
  readonly ratedImpedance?: Resistance | undefined;
  /** The air: `{ temperature, humidity, pressure }` in °C, % and Pa, or `{ speedOfSound, density }` in m/s and kg/m³; default dry, 20 °C. */
  readonly air?: Air | undefined;
}

/** Small-signal parameters of a driver. */
export interface ThieleSmall {
  /** Hz: resonance in free air. */
  readonly fs: number;
  /** Dimensionless: electrical Q at fs. */
  readonly qes: number;
  /** Dimensionless: mechanical Q at fs. */
  readonly qms: number;
  /** Dimensionless: total Q at fs. */
  readonly qts: number;
  /** m³: volume of air with the suspension's compliance. */
  readonly vas: number;
  /** Dimensionless: half-space reference efficiency η₀, re the power into Re. */
  readonly efficiency: number;
  /** dB re 20 µPa at 1 m in half space, for 2.83 V (√8 V) and for 1 W into the rated impedance. */
  readonly sensitivity: {
    /** dB re 20 µPa for 2.83 V (√8 V). */
    readonly for2V83Db: number;
    /** dB re 20 µPa for 1 W into the rated impedance. */
    readonly for1WDb: number;
  };
  /** Ω: motional resistance, Bl²/Rms. */
  readonly res: number;
  /** Ω: the impedance's maximum, Re + Res. */
  readonly zmax: number;
  /** F: the moving mass as a capacitance across Res. */
  readonly cmes: number;
  /** H: the compliance as an inductance across Res. */
  readonly lces: number;
  /** m/V: deflection by direct voltage. */
  readonly displacementPerVolt: number;
  /** How each number came about. */
  readonly working: Working;
}

const small = "after Small (1972), direct-radiator analysis";

/**
 * Thiele/Small parameters in SI from a driver's constants, each with its working.
 *
 * $$f_s = \frac{1}{2\pi\sqrt{M_{ms} C_{ms}}},\quad Q_{es} = \frac{\omega_s M_{ms} R_e}{(Bl)^2},\quad Q_{ms} = \frac{\omega_s M_{ms}}{R_{ms}},\quad
 * V_{as} = \rho c^2 S_d^2 C_{ms},\quad \eta_0 = \frac{4\pi^2}{c^3} \frac{f_s^3 V_{as}}{Q_{es}}$$
 *
 * @param constants `re` in Ω, `bl` in T·m, `mms` in kg, `cms` in m/N, `rms` in N·s/m, `sd` in m², and the `air`; text with units where it can be
 * @returns fs in Hz, Q dimensionless, vas in m³, efficiency dimensionless, sensitivity in dB re 20 µPa, and the rest in SI
 * @throws DividingNetworkError `invalid-argument`, `unknown-option`, `overflow`
 * Validity: small signals, the piston band (wavelength large against the cone), half space.
 * Source: after Small (1972); checked values recomputed.
 * @example
 * ```ts
 * import { thieleSmall } from "dividing-network/parts";
 *
 * const driver = thieleSmall({ re: "5.8 Ω", bl: 7, mms: "15 g", cms: 0.8e-3, rms: 1.2, sd: "135 cm²" });
 * driver.fs; // 45.944075
 * driver.sensitivity.for2V83Db; // 89.378
 * ```
 */
export function thieleSmall(constants: DriverConstants): ThieleSmall {
  const caller = "thieleSmall";
  const given = checkOptions(caller, constants, ["re", "bl", "mms", "cms", "rms", "sd", "ratedImpedance", "air"]);
  const re = inSi(caller, "re", given.re, "Ω", { above: 0 });
  const bl = checkNumber(caller, "bl", given.bl, { above: 0, unit: "T·m" });
  const mms = inSi(caller, "mms", given.mms, "kg", { above: 0 });
  const cms = checkNumber(caller, "cms", given.cms, { above: 0, unit: "m/N" });
  const rms = checkNumber(caller, "rms", given.rms, { above: 0, unit: "N·s/m" });
  const sd = inSi(caller, "sd", given.sd, "m²", { above: 0 });
  const rated = given.ratedImpedance === undefined ? re : inSi(caller, "ratedImpedance", given.ratedImpedance, "Ω", { above: 0 });
  const { density: rho, speedOfSound: c } = checkAir(caller, given.air);
  const w = startWorking();
  const fs = w.step(
    "fs",
    "Hz",
    { formula: "1 / (2π √(Mms Cms))", tex: "f_s = \\frac{1}{2\\pi\\sqrt{M_{ms}C_{ms}}}", source: small },
    { Mms: [mms, "kg"], Cms: [cms, "m/N"] },
    (v) => 1 / (2 * Math.PI * Math.sqrt(v.Mms * v.Cms)),
  );
  const qes = w.step(
    "Qes",
    "",
    { formula: "2π fs Mms Re / Bl²", tex: "Q_{es} = \\frac{2\\pi f_s M_{ms} R_e}{(Bl)^2}", source: small },
    { fs: [fs, "Hz"], Mms: [mms, "kg"], Re: [re, "Ω"], Bl: [bl, "T·m"] },
    (v) => (2 * Math.PI * v.fs * v.Mms * v.Re) / v.Bl ** 2,
  );
  const qms = w.step(
    "Qms",
    "",
    { formula: "2π fs Mms / Rms", tex: "Q_{ms} = \\frac{2\\pi f_s M_{ms}}{R_{ms}}", source: small },
    { fs: [fs, "Hz"], Mms: [mms, "kg"], Rms: [rms, "N·s/m"] },
    (v) => (2 * Math.PI * v.fs * v.Mms) / v.Rms,
  );
  const qts = w.step(
    "Qts",
    "",
    { formula: "Qes Qms / (Qes + Qms)", tex: "Q_{ts} = \\frac{Q_{es}Q_{ms}}{Q_{es}+Q_{ms}}", source: small },
    { Qes: [qes, ""], Qms: [qms, ""] },
    (v) => (v.Qes * v.Qms) / (v.Qes + v.Qms),
  );
  const vas = w.step(
    "Vas",
    "m³",
    { formula: "ρ c² Sd² Cms", tex: "V_{as} = \\rho c^2 S_d^2 C_{ms}", source: small },
    { ρ: [rho, "kg/m³"], c: [c, "m/s"], Sd: [sd, "m²"], Cms: [cms, "m/N"] },
    (v) => v.ρ * v.c ** 2 * v.Sd ** 2 * v.Cms,
  );
  const efficiency = w.step(
    "η₀",
    "",
    { formula: "4π² fs³ Vas / (c³ Qes)", tex: "\\eta_0 = \\frac{4\\pi^2}{c^3}\\frac{f_s^3 V_{as}}{Q_{es}}", source: small },
    { fs: [fs, "Hz"], Vas: [vas, "m³"], c: [c, "m/s"], Qes: [qes, ""] },
    (v) => (4 * Math.PI ** 2 * v.fs ** 3 * v.Vas) / (v.c ** 3 * v.Qes),
  );
  const level = (name: string, power: number): number =>
    w.step(
      name,
      "dB",
      {
        formula: "10 lg(ρ c η₀ P / (2π r² p₀²))",
        tex: "L = 10 \\lg \\frac{\\rho c\\, \\eta_0 P}{2\\pi r^2 p_0^2}",
        source: "derived here: power through a half sphere of 1 m",
      },
      { ρ: [rho, "kg/m³"], c: [c, "m/s"], "η₀": [efficiency, ""], P: [power, "W"], r: [1, "m"], "p₀": [REFERENCE_PRESSURE, "Pa"] },
      (v) => 10 * Math.log10((v.ρ * v.c * v["η₀"] * v.P) / (2 * Math.PI * v.r ** 2 * v["p₀"] ** 2)),
    );
  const power = (voltage: number, formula: string, tex: string, note: string): number =>
    w.step(
      "P",
      "W",
      { formula, tex: `P = ${tex}`, source: "derived here: power into Re", note },
      { U: [voltage, "V"], Re: [re, "Ω"] },
      (v) => v.U ** 2 / v.Re,
    );
  const for2V83Db = level("L(2.83 V)", power(SENSITIVITY_VOLTAGE, "U² / Re", "U^2/R_e", "U = √8 V is the voltage of 1 W in 8 Ω"));
  const for1WDb = level("L(1 W)", power(Math.sqrt(rated), "U² / Re", "U^2/R_e", "U is the voltage of 1 W in the rated impedance"));
  const res = bl ** 2 / rms;
  const results = positiveResults(caller, {
    fs,
    qes,
    qms,
    qts,
    vas,
    efficiency,
    res,
    zmax: re + res,
    cmes: mms / bl ** 2,
    lces: cms * bl ** 2,
    displacementPerVolt: (bl * cms) / re,
  });
  // A level is within numbers where its pressure is.
  positiveResults(caller, { "sensitivity.for2V83Db": 10 ** (for2V83Db / 20), "sensitivity.for1WDb": 10 ** (for1WDb / 20) });
  return Object.freeze({ ...results, sensitivity: Object.freeze({ for2V83Db, for1WDb }), working: w.done() });
}
