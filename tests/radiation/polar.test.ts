// Tests src/numeric/: log10-modulus.ts
// Tests src/physics/: point.ts
// Tests src/radiation/: listener-sensitivity.ts, piston-directivity.ts, polar-map.ts, sphere-map.ts
// Polar maps and what is read off them, against closed forms.
import { DividingNetworkError } from "dividing-network/errors";
import { logGrid } from "dividing-network/numeric";
import { airDensity, speedOfSound as speedInAir } from "dividing-network/physics";
import {
  angularWindow,
  arrayDirectivity,
  arrayLobes,
  beamwidth,
  coverage,
  directivityIndex,
  lineSource,
  listenerSensitivity,
  lobeTilt,
  offAxisStability,
  pistonDirectivity,
  pistonDirectivityIndex,
  pistonHalfAngle,
  pistonSource,
  pointSource,
  polarLevels,
  polarMap,
  polarMapFromResponses,
  powerResponse,
  pressureAt,
  radiatedPower,
  responseAtAngle,
  ringSource,
  sphereMap,
  twoSourceLobes,
  twoSourceWindow,
  type Source,
} from "dividing-network/radiation";
import { zonalWeights } from "../../src/radiation/internal";
import { frequencyResponse } from "dividing-network/response";
import { describe, expect, it } from "vitest";

const speedOfSound = 343;
const far = { distance: 1000, air: { speedOfSound } };
const frequencyOf = (ka: number, a: number): number => (ka * speedOfSound) / (2 * Math.PI * a);
const steps = (from: number, to: number, by: number): number[] =>
  Array.from({ length: Math.round((to - from) / by) + 1 }, (_, i) => from + i * by);

describe("a polar map", () => {
  it("of a piston follows 2J1(x)/x", () => {
    const map = polarMap([pistonSource({ radius: 0.1 })], [frequencyOf(3, 0.1)], { angles: steps(-90, 90, 15), ...far });
    const levels = polarLevels(map, { normalize: "axis" });
    map.angles.forEach((angle, i) => expect(levels[i]).toBeCloseTo(20 * Math.log10(Math.abs(pistonDirectivity({ ka: 3, angle }))), 3));
  });

  it("is horizontal with azimuth towards +y, or vertical with elevation up and over the top", () => {
    const left = [pointSource({ position: [0, 1, 0] })];
    const level = (plane: "horizontal" | "vertical", source: readonly Source[]): Float64Array =>
      polarLevels(polarMap(source, [100], { plane, angles: [-90, 90, 120], distance: 2 }));
    expect(level("horizontal", left)[1]).toBeCloseTo(0, 9);
    expect(level("horizontal", left)[0]).toBeCloseTo(-20 * Math.log10(3), 9);
    expect(level("vertical", [pointSource({ position: [0, 0, 1] })])[1]).toBeCloseTo(0, 9);
    expect(
      level(
        "vertical",
        [pointSource({ position: [-1, 0, Math.sqrt(3)] })].map((source) => ({ ...source, position: [-0.5, 0, Math.sqrt(3) / 2] as const })),
      )[2],
    ).toBeCloseTo(0, 9);
  });

  it("of two sources at a finite distance is the sum of two paths of known length", () => {
    const [a, frequency] = [0.2, 900];
    const k = (2 * Math.PI * frequency) / speedOfSound;
    for (const plane of ["horizontal", "vertical"] as const) {
      const place = (side: number): [number, number, number] =>
        plane === "vertical" ? [0.1, -0.2, 0.3 + side * a] : [0.1, -0.2 + side * a, 0.3];
      const map = polarMap(
        [1, -1].map((side) => pointSource({ position: place(side) })),
        [frequency],
        { plane, angles: steps(-180, 180, 15), distance: 0.7, centre: [0.1, -0.2, 0.3], air: { speedOfSound } },
      );
      map.angles.forEach((angle, i) => {
        const paths = [1, -1].map((side) => Math.sqrt(0.7 ** 2 + a ** 2 - 2 * 0.7 * a * side * Math.sin((angle * Math.PI) / 180)));
        expect(map.re[i]).toBeCloseTo(
          paths.reduce((sum, r) => sum + Math.cos(k * r) / r, 0),
          9,
        );
        expect(map.im[i]).toBeCloseTo(
          paths.reduce((sum, r) => sum - Math.sin(k * r) / r, 0),
          9,
        );
      });
    }
  });

  it("has 73 angles by default, and gives the response at each", () => {
    const map = polarMap([pointSource()], [0, 100]);
    expect(map.angles.length).toBe(73);
    expect(responseAtAngle(map, -180).re[0]).toBe(0.5);
    expect(() => responseAtAngle(map, 3)).toThrow(/must hold 3°/);
  });

  it("may be normalised by its largest level; silence is −Infinity dB and never NaN", () => {
    const map = polarMap([pistonSource({ radius: 0.1 })], [1000], { angles: [0, 100, 180] });
    expect(Array.from(polarLevels(map, { normalize: "maximum" }))).toEqual([0, -Infinity, -Infinity]);
    expect(
      Array.from(
        polarLevels(polarMapFromResponses([0, 90].map((angle) => ({ angle, response: frequencyResponse([10], [0], [0]) }))), {
          normalize: "axis",
        }),
      ),
    ).toEqual([0, 0]);
  });

  it("can be made of responses, in any order and on any grid inside theirs", () => {
    const grid = logGrid(100, 1000, 50);
    const response = (value: number) =>
      frequencyResponse(
        grid,
        grid.map(() => value),
        grid.map(() => 0),
        value === 2 ? [{ kind: "smoothed", note: "1/12 octave" }] : [],
      );
    const map = polarMapFromResponses(
      [
        { angle: 20, response: response(2) },
        { angle: -20, response: response(3) },
        { angle: 0, response: response(1) },
      ],
      { frequencies: [200, 300] },
    );
    expect(Array.from(map.angles)).toEqual([-20, 0, 20]);
    expect(map.re[4]).toBeCloseTo(2, 12);
    expect(map.marks).toEqual([{ kind: "smoothed", note: "1/12 octave" }]);
    expect(() =>
      polarMapFromResponses([
        { angle: 0, response: response(1) },
        { angle: 0, response: response(1) },
      ]),
    ).toThrow(/ascending/);
    expect(() => polarMapFromResponses([])).toThrow(DividingNetworkError);
  });
});

describe("beamwidth and coverage", () => {
  it("of a piston are those of the closed form, to the interpolation between angles", () => {
    for (const ka of [5, 8]) {
      const map = polarMap([pistonSource({ radius: 0.1 })], [frequencyOf(ka, 0.1)], { angles: steps(-90, 90, 0.5), ...far });
      const { positive, negative } = beamwidth(map, { dropDb: 20 * Math.log10(2) });
      expect(Math.abs(positive[0]! - pistonHalfAngle({ ka })!)).toBeLessThan(0.02);
      expect(negative[0]).toBeCloseTo(positive[0]!, 6);
    }
  });

  it("give the outermost angle when the level never falls so far", () => {
    const map = polarMap([pointSource()], [100, 1000], { angles: steps(-60, 90, 10) });
    expect(Array.from(beamwidth(map).positive)).toEqual([90, 90]);
    expect(coverage(map)).toEqual({ nominal: 150, narrowest: { angle: 150, frequency: 100 }, widest: { angle: 150, frequency: 100 } });
  });

  it("average over the logarithm of frequency within a band", () => {
    const a = 0.1;
    const map = polarMap([pistonSource({ radius: a })], logGrid(frequencyOf(4, a), frequencyOf(8, a), 41), {
      angles: steps(-90, 90, 0.5),
      ...far,
    });
    const { nominal, narrowest, widest } = coverage(map, { dropDb: 20 * Math.log10(2) });
    let mean = 0;
    for (let i = 0; i < 4000; i++) mean += pistonHalfAngle({ ka: 4 * 2 ** ((i + 0.5) / 4000) })! / 2000;
    expect(Math.abs(nominal - mean)).toBeLessThan(0.05);
    expect([narrowest.frequency, widest.frequency]).toEqual([map.frequencies[40], map.frequencies[0]]);
    expect(() => coverage(map, { from: 1, to: 2 })).toThrow(/enclose/);
  });
});

describe("power response and directivity index", () => {
  it("of a sphere map are those of a piston; 10° steps come within 0.2 dB", () => {
    for (const ka of [1, 3, 5]) {
      const options = { ...far, stepDegrees: 10 };
      const piston = [pistonSource({ radius: 0.1 })];
      const index = (quadrature: "zonal" | "gauss"): number =>
        directivityIndex(powerResponse(sphereMap(piston, [frequencyOf(ka, 0.1)], { ...options, quadrature }))).levelDb[0]!;
      expect(Math.abs(index("gauss") - pistonDirectivityIndex({ ka }))).toBeLessThan(1e-3);
      expect(Math.abs(index("zonal") - pistonDirectivityIndex({ ka }))).toBeLessThan(0.4);
    }
  });

  it("state the quadrature, and mark what stands on cuts as a model", () => {
    const map = polarMap([pointSource()], [1000]);
    const power = powerResponse({ horizontal: map, vertical: polarMap([pointSource()], [1000], { plane: "vertical" }) });
    expect(power.levelDb[0]).toBeCloseTo(-20 * Math.log10(2), 9);
    expect(power.quadrature).toMatch(/4 half planes/);
    expect(power.marks?.map(({ kind }) => kind)).toEqual(["model"]);
    expect(powerResponse(sphereMap([pointSource()], [1000])).marks).toBeUndefined();
  });

  it("from one cut are exact for what is round about the axis", () => {
    for (const ka of [2, 5]) {
      const map = polarMap([pistonSource({ radius: 0.1 })], [frequencyOf(ka, 0.1)], { angles: steps(0, 90, 1), ...far });
      expect(
        Math.abs(directivityIndex(powerResponse({ horizontal: map }, { space: "half" })).levelDb[0]! - pistonDirectivityIndex({ ka })),
      ).toBeLessThan(5e-3);
    }
  });

  it("refuse maps that do not reach around unless told", () => {
    const map = polarMap([pointSource()], [1000], { angles: steps(-60, 60, 10) });
    expect(() => powerResponse({ horizontal: map })).toThrow(/must reach 180°/);
    const power = powerResponse({ horizontal: map }, { extrapolate: true });
    expect(power.levelDb[0]).toBeCloseTo(-20 * Math.log10(2), 9);
    expect(power.marks).toHaveLength(2);
    expect(() => powerResponse({})).toThrow(/neither/);
    expect(() => powerResponse({ horizontal: map, vertical: polarMap([pointSource()], [500], { plane: "vertical" }) })).toThrow(
      /same frequencies/,
    );
  });

  it("give the power of a monopole in watts: 4πr²p²/ρc", () => {
    const power = radiatedPower(powerResponse(sphereMap([pointSource()], [300], { distance: 5 })));
    expect(power[0]).toBeCloseTo((4 * Math.PI) / (airDensity() * speedInAir()), 12);
  });
});

describe("zonal weights", () => {
  it("sum to the sphere or to half of it, from any angles", () => {
    expect(zonalWeights([0, 3, 17, 90, 131, 180]).reduce((a, b) => a + b)).toBeCloseTo(1, 14);
    expect(zonalWeights([5, 20, 80], { limit: 90 }).reduce((a, b) => a + b)).toBeCloseTo(0.5, 14);
    expect(() => zonalWeights([10, 5])).toThrow(/ascending/);
    expect(() => zonalWeights([100], { limit: 90 })).toThrow(/angles\[0\]/);
  });
});

describe("off-axis stability", () => {
  const tall = [pointSource({ position: [0, 0, 0.075] }), pointSource({ position: [0, 0, -0.075] })];

  it("is the deviation from the axis within a window, each side separately", () => {
    const map = polarMap(
      [pointSource({ position: [0, 0, 0.075] }), pointSource({ position: [0, 0, -0.075], delay: 5e-5 })],
      logGrid(2000, 4000, 21),
      { plane: "vertical", angles: steps(-20, 20, 5), ...far },
    );
    const levels = polarLevels(map, { normalize: "axis" });
    const { positive, negative, figureDb } = offAxisStability(map, { window: 10, from: 2500, to: 3500 });
    let worst = 0;
    map.angles.forEach((angle, i) => {
      if (angle !== 5 && angle !== 10) return;
      map.frequencies.forEach((f, at) => {
        if (f >= 2500 && f <= 3500 && Math.abs(levels[i * 21 + at]!) > Math.abs(worst)) worst = levels[i * 21 + at]!;
      });
    });
    expect(positive.worst.deviationDb).toBe(worst);
    expect(positive.deviation.levelDb.length).toBe(21);
    expect(negative.rmsDb).not.toBeCloseTo(positive.rmsDb, 2);
    expect(figureDb).toBe(Math.max(positive.rmsDb, negative.rmsDb));
    expect(() => offAxisStability(map, { window: 3 })).toThrow(/within 3°/);
  });

  it("has a window within ±x dB equal to the closed form of two sources", () => {
    for (const phaseDegrees of [0, -90, 60]) {
      const drives = [{ re: Math.cos((phaseDegrees * Math.PI) / 180), im: Math.sin((phaseDegrees * Math.PI) / 180) }, 1];
      const map = polarMap(tall, [3000], { plane: "vertical", angles: steps(-90, 90, 0.1), drives, ...far });
      for (const withinDb of [1, 3, 6]) {
        const closed = twoSourceWindow({ spacing: 0.15, frequency: 3000, phaseDegrees, withinDb, air: { speedOfSound } });
        const read = angularWindow(map, { withinDb });
        expect(Math.abs(read.positive - closed.up)).toBeLessThan(0.02);
        expect(Math.abs(read.negative - closed.down)).toBeLessThan(0.02);
        expect(closed.working.at(-1)!.value).toBe(closed.down);
      }
    }
    expect(() => twoSourceWindow({ spacing: 0.15, frequency: 3000, phaseDegrees: 180, withinDb: 3 })).toThrow(/axis/);
  });

  it("has its narrowest window over a band at the highest frequency of two sources", () => {
    const map = polarMap(tall, [1000, 2000, 3000], { plane: "vertical", angles: steps(-90, 90, 1), ...far });
    const window = angularWindow(map, { withinDb: 3, to: 2500 });
    expect(window.positiveFrequency).toBe(2000);
    expect(window.curve.positive.length).toBe(3);
    expect(() => angularWindow(map, { withinDb: 3, from: 4000 })).toThrow(/enclose/);
  });
});

describe("lobes as closed forms", () => {
  const sum = (positions: readonly number[], frequency: number, angle: number, lead: number): number => {
    const k = (2 * Math.PI * frequency) / speedOfSound;
    let [re, im] = [0, 0];
    positions.forEach((z, i) => {
      const phase = k * z * Math.sin((angle * Math.PI) / 180) + (i * lead * Math.PI) / 180;
      re += Math.cos(phase);
      im += Math.sin(phase);
    });
    return Math.hypot(re, im);
  };

  it("of two sources are where a plain sum peaks and cancels", () => {
    for (const lead of [0, 90, -45, 180, 200]) {
      const lobes = twoSourceLobes({ spacing: 0.3, frequency: 2500, phaseDegrees: lead, air: { speedOfSound } });
      expect(lobes.peaks.length + lobes.nulls.length).toBeGreaterThan(4);
      for (const angle of lobes.peaks) expect(sum([0, 0.3], 2500, angle, lead)).toBeCloseTo(2, 9);
      for (const angle of lobes.nulls) expect(sum([0, 0.3], 2500, angle, lead)).toBeCloseTo(0, 9);
      const lobe = lobes.working.find((step) => step.symbol === "θ lobe");
      expect(lobe?.value).toBeCloseTo(lobes.mainLobe!, 12);
    }
  });

  it("of unequal sources peak and dip by their sum and difference", () => {
    const { peakDb, nullDb, axisDb } = twoSourceLobes({ spacing: 0.2, frequency: 2000, levelDifferenceDb: 6, phaseDegrees: 90 });
    const g = 10 ** (6 / 20);
    expect(peakDb).toBeCloseTo(20 * Math.log10((1 + g) / Math.hypot(1, g)), 12);
    expect(nullDb).toBeCloseTo(20 * Math.log10((g - 1) / Math.hypot(1, g)), 12);
    expect(axisDb).toBeCloseTo(-peakDb, 12);
  });

  it("of a row of sources are where a plain sum peaks and cancels", () => {
    for (const [count, lead] of [
      [3, 0],
      [4, 30],
      [5, -100],
    ] as const) {
      const place = Array.from({ length: count }, (_, i) => 0.15 * i);
      const { peaks, nulls, mainLobe } = arrayLobes({ count, spacing: 0.15, frequency: 3000, phaseDegrees: lead, air: { speedOfSound } });
      expect(nulls.length).toBeGreaterThan(count);
      for (const angle of peaks) expect(sum(place, 3000, angle, lead)).toBeCloseTo(count, 9);
      for (const angle of nulls) expect(sum(place, 3000, angle, lead)).toBeCloseTo(0, 9);
      expect(peaks).toContain(mainLobe);
      for (const angle of [-70, -3, 0, 11, 45]) {
        const kd = (2 * Math.PI * 3000 * 0.15) / speedOfSound;
        expect(Math.abs(arrayDirectivity({ count, kd, angle, phaseDegrees: lead }))).toBeCloseTo(sum(place, 3000, angle, lead) / count, 12);
      }
    }
  });

  it("have no main lobe where the wavelength is too long for the phase", () => {
    expect(lobeTilt({ order: 3, spacing: 0.02, frequency: 500 }).tilt).toBeUndefined();
    expect(twoSourceLobes({ spacing: 0.02, frequency: 500, phaseDegrees: 90 }).mainLobe).toBeUndefined();
    expect(() => twoSourceLobes({ spacing: 1e6, frequency: 20000 })).toThrow(/2000 wavelengths/);
    expect(() => lobeTilt({ order: 0, spacing: 0.1, frequency: 500 })).toThrow(/order/);
  });
});

describe("the listener's place", () => {
  it("far from a monopole costs 6.02 dB per doubling and nothing per metre of height", () => {
    const { distanceDbPerDoubling, heightDbPerMetre, levelDb } = listenerSensitivity([pointSource()], [100, 10000], { point: [4, 0, 0] });
    for (let f = 0; f < 2; f++) {
      expect(distanceDbPerDoubling[f]).toBeCloseTo(-6.0206, 6);
      expect(heightDbPerMetre[f]).toBeCloseTo(0, 9);
      expect(levelDb[f]).toBeCloseTo(-20 * Math.log10(4), 9);
    }
  });

  it("before two drivers changes the level with height as the closed form says", () => {
    const pair = [pointSource({ position: [0, 0, 0.1] }), pointSource({ position: [0, 0, -0.1] })];
    const frequency = 2000;
    const { heightDbPerMetre } = listenerSensitivity(pair, [frequency], { point: [1000, 0, 100], air: { speedOfSound }, step: 0.5 });
    // Level 20 log10 |cos(k d sin θ / 2)|; its slope per metre of height at this place.
    const level = (z: number): number =>
      20 * Math.log10(Math.abs(Math.cos(((2 * Math.PI * frequency) / speedOfSound) * 0.1 * (z / Math.hypot(1000, z)))))
      - 20 * Math.log10(Math.hypot(1000, z));
    expect(heightDbPerMetre[0]).toBeCloseTo((level(100.5) - level(99.5)) / 1, 4);
  });

  it("beside two drivers has the slopes that the derivative of their sum says", () => {
    const places = [
      [0.02, 0.1, 0.15],
      [-0.03, -0.05, -0.1],
    ] as const;
    const [x, y, z] = [2.1, 0.7, 0.4];
    for (const frequency of [200, 1500]) {
      const k = (2 * Math.PI * frequency) / speedOfSound;
      // 20 / ln 10 · Re(p'/p), with (e^(−jkr)/r)' = −(jk + 1/r) e^(−jkr)/r · dr along the way.
      const slope = (way: readonly [number, number, number]): number => {
        let [re, im, dRe, dIm] = [0, 0, 0, 0];
        for (const [px, py, pz] of places) {
          const r = Math.hypot(x - px, y - py, z - pz);
          const dr = ((x - px) * way[0] + (y - py) * way[1] + (z - pz) * way[2]) / r;
          const [a, b] = [Math.cos(k * r) / r, -Math.sin(k * r) / r];
          re += a;
          im += b;
          dRe += -dr * (a / r - k * b);
          dIm += -dr * (b / r + k * a);
        }
        return ((20 / Math.LN10) * (dRe * re + dIm * im)) / (re * re + im * im);
      };
      const found = listenerSensitivity(
        places.map((position) => pointSource({ position })),
        [frequency],
        { point: [x, y, z], air: { speedOfSound }, step: 1e-4 },
      );
      expect(found.heightDbPerMetre[0]).toBeCloseTo(slope([0, 0, 1]), 4);
      // A doubling is ln 2 times the way from the centre; the steps of 0.7 % leave their square.
      expect(found.distanceDbPerDoubling[0]).toBeCloseTo(Math.LN2 * slope([x, y, z]), 2);
      const beside = listenerSensitivity(
        places.map((position) => pointSource({ position })),
        [frequency],
        { point: [x, y, z], centre: [1, 0, 0], air: { speedOfSound }, step: 1e-4 },
      );
      expect(beside.distanceDbPerDoubling[0]).toBeCloseTo(Math.LN2 * slope([x - 1, y, z]), 2);
    }
  });

  it("before a line loses about 3 dB per doubling", () => {
    const { distanceDbPerDoubling } = listenerSensitivity([lineSource({ length: 30 })], [500], { point: [1, 0, 0] });
    // The ends of the line still ripple by a few tenths of a dB.
    expect(Math.abs(distanceDbPerDoubling[0]! + 3.01)).toBeLessThan(0.6);
  });

  it("must not be a silent one", () => {
    expect(() => listenerSensitivity([pistonSource({ radius: 0.1 })], [500], { point: [-1, 0, 0] })).toThrow(/must be sound/);
    expect(() => listenerSensitivity([ringSource({ radius: 0.1 })], [500], { point: [0, 0, 0] })).toThrow(/distance/);
    expect(pressureAt([ringSource({ radius: 0.1 })], [0], { points: [[0, 0, 0]] }).re[0]).toBeCloseTo(10, 12);
  });
});
