import type { CircuitPiece, Evaluator, Law, ValueLimit } from "./law";

const OHMS: ValueLimit = { unit: "Ω", range: { min: 0 } };
const FARADS: ValueLimit = { unit: "F", range: { above: 0 } };
const PLAIN: ValueLimit = { range: { min: 0 } };

/** Y = 1/R. */
export const resistanceLaw: Law = /* @__PURE__ */ resistanceNamed("resistance");
/** The two resistances of a pad: the same law, each under its own name. */
export const padSeriesLaw: Law = /* @__PURE__ */ resistanceNamed("series");
export const padShuntLaw: Law = /* @__PURE__ */ resistanceNamed("shunt");

function resistanceNamed(parameter: string): Law {
  return Object.freeze({
    name: "resistance",
    parameters: [parameter],
    limits: [OHMS],
    kernel: "resistance" as const,
    bind: () => resistanceEvaluator,
    ratio(values: ArrayLike<number>, offset: number, _frequency: number, out: Float64Array) {
      out[0] = 1;
      out[1] = 0;
      out[2] = values[offset]!;
      out[3] = 0;
    },
    circuit: ([ohms]: readonly number[]) => [{ r: ohms! }],
  });
}

/** Nothing where there is no resistance. */
const inSeries = (ohms: number): readonly CircuitPiece[] => (ohms === 0 ? [] : [{ r: ohms }]);

const resistanceEvaluator: Evaluator = {
  admittance(values, offset, _start, count, re, im, at) {
    const conductance = 1 / values[offset]!;
    for (let i = at; i < at + count; i++) {
      re[i] = conductance;
      im[i] = 0;
    }
  },
  derivative(values, offset, _index, _start, count, re, im, at) {
    const slope = -1 / values[offset]! ** 2;
    for (let i = at; i < at + count; i++) {
      re[i] = slope;
      im[i] = 0;
    }
  },
};

/** Y = 1/(R + jωL), R the coil's direct-current resistance. */
export const coilLaw: Law = /* @__PURE__ */ coilNamed("inductance", "dcr");
/** The two windings of a transformer: the same law, each with its own names. */
export const primaryWindingLaw: Law = /* @__PURE__ */ coilNamed("primaryInductance", "primaryResistance", { above: 0 });
export const secondaryWindingLaw: Law = /* @__PURE__ */ coilNamed("secondaryInductance", "secondaryResistance", { above: 0 });

function coilNamed(inductance: string, resistance: string, least: ValueLimit["range"] = { min: 0 }): Law {
  return Object.freeze({
    name: "coil",
    parameters: [inductance, resistance],
    limits: [{ unit: "H", range: least } as const, OHMS],
    kernel: "coil" as const,
    bind: (frequencies: Float64Array) => coilEvaluator(angular(frequencies)),
    ratio(values: ArrayLike<number>, offset: number, frequency: number, out: Float64Array) {
      out[0] = 1;
      out[1] = 0;
      out[2] = values[offset + 1]!;
      out[3] = 2 * Math.PI * frequency * values[offset]!;
    },
    circuit: ([henries, ohms]: readonly number[]) => (henries === 0 ? [{ r: ohms! }] : [{ l: henries! }, ...inSeries(ohms!)]),
  });
}

function coilEvaluator(omega: Float64Array): Evaluator {
  return {
    admittance(values, offset, start, count, re, im, at) {
      const inductance = values[offset]!;
      const dcr = values[offset + 1]!;
      for (let i = 0; i < count; i++) {
        const x = omega[start + i]! * inductance;
        const size = dcr * dcr + x * x;
        re[at + i] = dcr / size;
        im[at + i] = -x / size;
      }
    },
    // dY/dZ = −Y², dZ/dL = jω, dZ/dR = 1
    derivative(values, offset, index, start, count, re, im, at) {
      const inductance = values[offset]!;
      const dcr = values[offset + 1]!;
      for (let i = 0; i < count; i++) {
        const w = omega[start + i]!;
        const x = w * inductance;
        const size = dcr * dcr + x * x;
        const yr = dcr / size;
        const yi = -x / size;
        const sr = -(yr * yr - yi * yi);
        const si = -2 * yr * yi;
        re[at + i] = index === 1 ? sr : -w * si;
        im[at + i] = index === 1 ? si : w * sr;
      }
    },
  };
}

/** Y = jωC/(1 + jωC·ESR + j·tan δ): a series resistance, and a loss that grows as 1/(ωC) at a constant tan δ. */
export const capacitorLaw: Law = /* @__PURE__ */ Object.freeze({
  name: "capacitor",
  parameters: ["capacitance", "esr", "dissipationFactor"],
  limits: [FARADS, OHMS, PLAIN],
  kernel: "capacitor" as const,
  bind: (frequencies: Float64Array) => capacitorEvaluator(angular(frequencies)),
  ratio(values: ArrayLike<number>, offset: number, frequency: number, out: Float64Array) {
    const b = 2 * Math.PI * frequency * values[offset]!;
    out[0] = 0;
    out[1] = b;
    out[2] = 1;
    out[3] = b * values[offset + 1]! + values[offset + 2]!;
  },
  // A loss that is the same share of the reactance at every frequency is no circuit's: capacitors beside resistors come near to it.
  circuit: ([farads, esr, loss]: readonly number[]): readonly CircuitPiece[] => [
    loss === 0
      ? { c: farads! }
      : {
          near: "capacitor",
          law: capacitorLaw,
          values: [farads!, 0, loss!],
          what: `the dissipation factor of ${loss}`,
          // A loss angle δ that is the same everywhere makes |Z| fall as ω^(2δ/π − 1): its capacitance can't be one number.
          otherwise: 'Passive parts can\'t have one capacitance and one dissipation factor over a wide band. Describe the loss by an "esr"',
        },
    ...inSeries(esr!),
  ],
});

function capacitorEvaluator(omega: Float64Array): Evaluator {
  return {
    admittance(values, offset, start, count, re, im, at) {
      const capacitance = values[offset]!;
      const esr = values[offset + 1]!;
      const loss = values[offset + 2]!;
      for (let i = 0; i < count; i++) {
        const b = omega[start + i]! * capacitance;
        const d = b * esr + loss;
        const y = b / (1 + d * d);
        re[at + i] = y * d;
        im[at + i] = y;
      }
    },
    // Y = jb/(1 + jd) with b = ωC and d = bR + t:  ∂Y/∂C = jω(1 + jt)/(1 + jd)²,  ∂Y/∂R = b²/(1 + jd)²,  ∂Y/∂t = b/(1 + jd)²
    derivative(values, offset, index, start, count, re, im, at) {
      const capacitance = values[offset]!;
      const esr = values[offset + 1]!;
      const loss = values[offset + 2]!;
      for (let i = 0; i < count; i++) {
        const w = omega[start + i]!;
        const b = w * capacitance;
        const d = b * esr + loss;
        const size = (1 + d * d) ** 2;
        const qr = (1 - d * d) / size;
        const qi = (-2 * d) / size;
        const scale = index === 1 ? b * b : b;
        re[at + i] = index === 0 ? -w * (qi + loss * qr) : scale * qr;
        im[at + i] = index === 0 ? w * (qr - loss * qi) : scale * qi;
      }
    },
  };
}

/** Hz to rad/s. */
export function angular(frequencies: Float64Array): Float64Array {
  const omega = new Float64Array(frequencies.length);
  for (let i = 0; i < omega.length; i++) omega[i] = 2 * Math.PI * frequencies[i]!;
  return omega;
}
