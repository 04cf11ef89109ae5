// Laws of the response tools, on generated filters and signals.
import { uniform } from "../support/uniform";
import fc from "fast-check";
import { logGrid } from "dividing-network/numeric";
import { equivalentPeakDissipationResistance, parametersFromAddedMass, thieleSmall } from "dividing-network/parts";
import {
  delayResponse,
  excessPhase,
  frequencyResponse,
  gateFromGeometry,
  impulseFromResponse,
  impulseResponse,
  magnitude,
  minimumPhase,
  minimumPhaseWithError,
  multiplyResponses,
  phaseDegrees,
  responseFromImpulse,
  responseOf,
  scaleResponse,
  smoothResponse,
  type FrequencyResponse,
} from "dividing-network/response";
import { describe, expect, it } from "vitest";
import { cases } from "../support/cases";

const between = (low: number, high: number) => uniform(0, 1).map((u) => low * (high / low) ** u);
const section = fc.record({ f: between(100, 4000), q: between(0.4, 8), high: fc.boolean() });
const grid = logGrid(5, 80000, 670);

function filter(sections: readonly { f: number; q: number; high: boolean }[]): FrequencyResponse {
  return multiplyResponses(
    ...sections.map(({ f, q, high }) => {
      const w = 2 * Math.PI * f;
      const root = 1 / (4 * q * q);
      const poles =
        root <= 1
          ? [1, -1].map((sign) => ({ re: -w / (2 * q), im: sign * w * Math.sqrt(1 - root) }))
          : [1, -1].map((sign) => ({ re: -w * (1 / (2 * q) + sign * Math.sqrt(root - 1)), im: 0 }));
      return responseOf(
        high
          ? {
              zeros: [
                { re: 0, im: 0 },
                { re: 0, im: 0 },
              ],
              poles,
              gain: 1,
            }
          : { zeros: [], poles, gain: w * w },
        grid,
      );
    }),
  );
}
const flatPhase = (response: FrequencyResponse): FrequencyResponse =>
  frequencyResponse(response.frequencies, magnitude(response), new Float64Array(response.frequencies.length));
const wrapped = (degrees: number): number => degrees - 360 * Math.round(degrees / 360);

describe("minimum phase", () => {
  it("of a chain of minimum-phase sections is their own phase, within the reported error", () => {
    fc.assert(
      fc.property(fc.array(section, { minLength: 1, maxLength: 4 }), (sections) => {
        const truth = filter(sections);
        const { response, errorDegrees } = minimumPhaseWithError(flatPhase(truth));
        const expected = phaseDegrees(truth);
        phaseDegrees(response).forEach((phase, k) => {
          const error = Math.abs(wrapped(phase - expected[k]!));
          expect(error).toBeLessThanOrEqual(errorDegrees[k]! + 1e-6);
          if (grid[k]! > 50 && grid[k]! < 8000) expect(error).toBeLessThan(0.5);
        });
      }),
      { numRuns: cases(40) },
    );
  });

  it("of a product is the sum, of a reciprocal the negative, and a factor changes nothing", () => {
    fc.assert(
      fc.property(section, section, between(1e-6, 1e6), (a, b, factor) => {
        const [x, y] = [flatPhase(filter([a])), flatPhase(filter([b]))];
        const [px, py, pxy] = [x, y, multiplyResponses(x, y)].map((r) => phaseDegrees(minimumPhase(r)));
        const scaled = phaseDegrees(minimumPhase(scaleResponse(x, factor)));
        const inverse = phaseDegrees(
          minimumPhase(
            frequencyResponse(
              grid,
              x.re.map((v) => 1 / v),
              x.im,
            ),
          ),
        );
        for (let k = 0; k < grid.length; k++) {
          expect(wrapped(scaled[k]! - px![k]!)).toBeCloseTo(0, 6);
          if (grid[k]! < 50 || grid[k]! > 8000) continue;
          expect(wrapped(pxy![k]! - px![k]! - py![k]!)).toBeCloseTo(0, 1);
          expect(wrapped(inverse[k]! + px![k]!)).toBeCloseTo(0, 1);
        }
      }),
      { numRuns: cases(20) },
    );
  });

  it("is shifted with the frequencies: only ratios of frequency count", () => {
    fc.assert(
      fc.property(section, between(1e-3, 1e3), (a, ratio) => {
        const x = flatPhase(filter([a]));
        const here = minimumPhase(x);
        const there = minimumPhase(
          frequencyResponse(
            grid.map((f) => f * ratio),
            x.re,
            x.im,
          ),
        );
        here.re.forEach((re, k) => {
          const size = Math.hypot(re, here.im[k]!);
          expect(Math.hypot(re - there.re[k]!, here.im[k]! - there.im[k]!) / size).toBeLessThan(1e-5);
        });
      }),
      { numRuns: cases(20) },
    );
  });

  it("leaves a delay in the excess phase: its slope is the delay", () => {
    fc.assert(
      fc.property(section, uniform(-0.004, 0.004), (a, delay) => {
        const excess = phaseDegrees(excessPhase(delayResponse(filter([a]), delay)));
        grid.forEach((f, k) => {
          if (f > 50 && f < 8000) expect(Math.abs(wrapped(excess[k]! + 360 * f * delay))).toBeLessThan(0.5);
        });
      }),
      { numRuns: cases(20) },
    );
  });
});

describe("impulse and frequency response", () => {
  const signal = fc.array(uniform(-100, 100), { minLength: 1, maxLength: 200 });

  it("impulse → response → impulse is the identity, and energy is kept", () => {
    fc.assert(
      fc.property(signal, fc.integer({ min: -1000, max: 1000 }), (values, start) => {
        const impulse = impulseResponse(values, { sampleRate: 48000, startTime: start / 48000 });
        const response = responseFromImpulse(impulse);
        const back = impulseFromResponse(response, { sampleRate: 48000, length: values.length, startTime: start / 48000 });
        values.forEach((value, i) => expect(Math.abs(back.samples[i]! - value)).toBeLessThan(1e-10));
      }),
    );
  });

  it("a later start is a delay: the phase turns by −2πfτ", () => {
    fc.assert(
      fc.property(signal, between(1e-6, 0.1), (values, tau) => {
        const at = (startTime: number): FrequencyResponse => responseFromImpulse(impulseResponse(values, { sampleRate: 48000, startTime }));
        const moved = delayResponse(at(0), tau);
        const late = at(tau);
        const scale = 1 + values.reduce((sum, value) => sum + Math.abs(value), 0);
        late.re.forEach((re, k) => expect(Math.hypot(re - moved.re[k]!, late.im[k]! - moved.im[k]!) / scale).toBeLessThan(1e-9));
      }),
    );
  });
});

describe("smoothing", () => {
  it("never leaves the range of the data, and is the same whichever way it is scaled", () => {
    fc.assert(
      fc.property(
        fc.array(between(1e-3, 1e3), { minLength: 3, maxLength: 120 }),
        fc.integer({ min: 1, max: 24 }),
        between(1e-6, 1e6),
        (values, fraction, factor) => {
          const f = logGrid(20, 20000, values.length);
          const response = frequencyResponse(
            f,
            values,
            values.map(() => 0),
          );
          const smooth = smoothResponse(response, { fraction });
          const [low, high] = [Math.min(...values), Math.max(...values)];
          smooth.re.forEach((value) => {
            expect(value).toBeGreaterThanOrEqual(low * (1 - 1e-9));
            expect(value).toBeLessThanOrEqual(high * (1 + 1e-9));
          });
          smoothResponse(scaleResponse(response, factor), { fraction }).re.forEach((value, k) =>
            expect(value / factor / smooth.re[k]!).toBeCloseTo(1, 9),
          );
        },
      ),
    );
  });
});

describe("driver and load", () => {
  it("thieleSmall and an added mass undo each other", () => {
    const constants = fc.record({
      re: between(2, 16),
      bl: between(1, 30),
      mms: between(2e-4, 0.3),
      cms: between(5e-5, 3e-3),
      rms: between(0.1, 10),
      sd: between(5e-4, 0.1),
    });
    fc.assert(
      fc.property(constants, between(0.2, 2), (given, share) => {
        const { fs, qms, qes, vas, efficiency, sensitivity } = thieleSmall(given);
        const found = parametersFromAddedMass({
          re: given.re,
          fs,
          qms,
          qes,
          sd: given.sd,
          addedMass: share * given.mms,
          fsWithMass: fs / Math.sqrt(1 + share),
        });
        for (const name of ["mms", "cms", "rms", "bl"] as const) expect(found[name] / given[name]).toBeCloseTo(1, 8);
        expect(found.vas / vas).toBeCloseTo(1, 8);
        expect(sensitivity.for1WDb - 10 * Math.log10(efficiency)).toBeCloseTo(
          10 * Math.log10(((101325 / (287.058 * 293.15)) * 343.2) / (2 * Math.PI * 4e-10)),
          8,
        );
      }),
    );
  });

  it("the equivalent resistance lies between 0.192 and 1 of |Z|, and falls as the phase grows", () => {
    fc.assert(
      fc.property(between(0.1, 1000), uniform(0, 89), (size, degrees) => {
        const at = (phi: number): number =>
          equivalentPeakDissipationResistance({ re: size * Math.cos((phi * Math.PI) / 180), im: -size * Math.sin((phi * Math.PI) / 180) });
        expect(at(degrees)).toBeLessThanOrEqual(size * (1 + 1e-12));
        expect(at(degrees)).toBeGreaterThan(0.192 * size);
        expect(at(degrees + 0.5)).toBeLessThan(at(degrees));
      }),
    );
  });

  it("source and microphone may change places before the gate", () => {
    fc.assert(
      fc.property(between(0.2, 3), between(0.2, 3), between(3, 10), (a, b, distance) => {
        const there = gateFromGeometry({ distance, sourceHeight: a, microphoneHeight: b });
        const back = gateFromGeometry({ distance, sourceHeight: b, microphoneHeight: a });
        expect(there.duration).toBeCloseTo(back.duration, 15);
      }),
    );
  });
});
