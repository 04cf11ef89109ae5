// Tests src/radiation/: meridians.ts, zonal-weights.ts
// Power over the sphere against integrals that are known: powers of the cosine, steps, two monopoles, a dipole of any length, patterns that are not round.
import { airDensity, speedOfSound } from "dividing-network/physics";
import {
  dipoleSource,
  directivityIndex,
  lineSource,
  panelSource,
  pointSource,
  polarMap,
  powerResponse,
  radiatedPower,
  ringSource,
  sphereMap,
  type PolarMap,
  type Source,
} from "dividing-network/radiation";
import { zonalWeights } from "../../src/radiation/internal";
import { describe, expect, it } from "vitest";
import { mapOf, steps } from "../support/map-of";

const rad = Math.PI / 180;
const c = 343;
const sinc = (x: number): number => (x === 0 ? 1 : Math.sin(x) / x);

/** Patterns round about the axis, and their mean squares over the sphere: ∫ p² sin θ dθ / 2. */
const round: readonly [name: string, pattern: (theta: number) => number, exact: number][] = [
  ["(1 + cos θ)/2", (t) => (1 + Math.cos(t)) / 2, 1 / 3],
  ["cos θ", Math.cos, 1 / 3],
  ["cos⁴ θ", (t) => Math.cos(t) ** 4, 1 / 9],
  ["0.25 + 0.75 cos θ", (t) => 0.25 + 0.75 * Math.cos(t), 0.25 ** 2 + 0.75 ** 2 / 3],
  ["sin θ", Math.sin, 2 / 3],
  ["cos⁸ θ in front only", (t) => Math.max(0, Math.cos(t)) ** 8, 1 / 34],
  ["cos³ θ in front only", (t) => Math.max(0, Math.cos(t)) ** 3, 1 / 14],
];

describe("the power from cuts", () => {
  it.each(round)("of %s tends to its integral as the square of the step", (_name, pattern, exact) => {
    const miss = [10, 5, 2.5].map((step) => {
      const cut = (plane: "horizontal" | "vertical"): PolarMap =>
        mapOf(plane, steps(-180, 180, step), [1000], (angle) => pattern(angle * rad));
      const both = powerResponse({ horizontal: cut("horizontal"), vertical: cut("vertical") });
      const one = powerResponse({ horizontal: mapOf("horizontal", steps(0, 180, step), [1000], (angle) => pattern(angle * rad)) });
      expect(one.meanSquare[0]).toBeCloseTo(both.meanSquare[0]!, 12);
      expect(both.levelDb[0]).toBeCloseTo(10 * Math.log10(both.meanSquare[0]!), 12);
      return both.meanSquare[0]! / exact - 1;
    });
    // 0.1 dB
    expect(Math.abs(miss[0]!)).toBeLessThan(0.023);
    expect(miss[0]! / miss[1]!).toBeCloseTo(4, 0);
    expect(miss[1]! / miss[2]!).toBeCloseTo(4, 0);
    // What is left when that is taken out.
    expect(Math.abs((4 * miss[2]! - miss[1]!) / 3)).toBeLessThan(3e-5);
  });

  it("of a step half way between two angles is exactly the cap's area, from any angles", () => {
    for (const angles of [steps(0, 180, 10), [0, 4, 11, 19, 45, 46, 80, 130, 180], [0, 90, 180]]) {
      for (let i = 1; i < angles.length; i++) {
        const edge = (angles[i - 1]! + angles[i]!) / 2;
        const cap = (1 - Math.cos(edge * rad)) / 2;
        const map = mapOf("vertical", angles, [1000], (angle) => (angle < edge ? 1 : 0));
        expect(powerResponse({ vertical: map }).meanSquare[0]).toBeCloseTo(cap, 12);
        expect(
          zonalWeights(angles)
            .slice(0, i)
            .reduce((sum, weight) => sum + weight, 0),
        ).toBeCloseTo(cap, 12);
        if (edge >= 90) continue;
        const front = mapOf("vertical", [...angles.filter((angle) => angle < 90), 90], [1000], (angle) => (angle < edge ? 1 : 0));
        expect(powerResponse({ vertical: front }, { space: "half" }).meanSquare[0]).toBeCloseTo(cap, 12);
      }
    }
  });

  it("of what is no body of revolution is its integral when the squares run as cos²φ and sin²φ around", () => {
    // p² = h(θ) cos²φ + v(θ) sin²φ: a dipole to the side has h = sin²θ and no v, an oval lobe cos²θ and cos⁶θ.
    const power = (across: (t: number) => number, upright: (t: number) => number): number =>
      powerResponse({
        horizontal: mapOf("horizontal", steps(-180, 180, 2), [1000], (angle) => across(angle * rad)),
        vertical: mapOf("vertical", steps(-180, 180, 2), [1000], (angle) => upright(angle * rad)),
      }).meanSquare[0]!;
    expect(power(Math.sin, () => 0)).toBeCloseTo(1 / 3, 4);
    expect(power(() => 0, Math.sin)).toBeCloseTo(1 / 3, 4);
    expect(power(Math.cos, (t) => Math.cos(t) ** 3)).toBeCloseTo((1 / 3 + 1 / 7) / 2, 3);
    // Two sides that differ count by half each: a cardioid to the side, (1 + sin θ)/2 and 1/2.
    expect(
      power(
        (t) => (1 + Math.sin(t)) / 2,
        () => 0.5,
      ),
    ).toBeCloseTo(1 / 3, 4);
  });

  it("gives directivity indices of 4.77 dB for cardioid and dipole, 10 lg(4n + 2) for cosⁿ in front", () => {
    const index = (pattern: (t: number) => number, space: "full" | "half" = "full"): number =>
      directivityIndex(
        powerResponse(
          { horizontal: mapOf("horizontal", steps(0, space === "full" ? 180 : 90, 0.5), [1000], (angle) => 3 * pattern(angle * rad)) },
          { space },
        ),
      ).levelDb[0]!;
    expect(index((t) => (1 + Math.cos(t)) / 2)).toBeCloseTo(10 * Math.log10(3), 3);
    expect(index(Math.cos)).toBeCloseTo(10 * Math.log10(3), 3);
    for (const n of [1, 2, 5]) expect(index((t) => Math.cos(t) ** n, "half")).toBeCloseTo(10 * Math.log10(4 * n + 2), 3);
  });

  it("is taken at each frequency by itself", () => {
    // A cap that grows with frequency: 15°, 45°, 95° and all, half way between the angles.
    const edges = [15, 45, 95, 181];
    const frequencies = [100, 200, 300, 400];
    for (const plane of ["horizontal", "vertical"] as const) {
      const map = mapOf(
        plane,
        [-180, -100, -60, -30, 0, 30, 60, 130, 180],
        frequencies,
        (angle, f) => (f / 100) * (Math.abs(angle) < edges[frequencies.indexOf(f)]! ? 1 : 0),
      );
      const upper = mapOf(
        plane,
        [0, 30, 60, 130, 180],
        frequencies,
        (angle, f) => (f / 100) * (angle < edges[frequencies.indexOf(f)]! ? 1 : 0),
      );
      const exact = edges.map((edge, i) => ((i + 1) ** 2 * (1 - Math.cos(Math.min(180, edge) * rad))) / 2);
      expect(Array.from(powerResponse({ [plane]: upper }).meanSquare)).toEqual(exact.map((value) => expect.closeTo(value, 12) as number));
      // The other half has its edges at 15°, 45° and 80°: −100° is beyond 95°.
      const other = exact.map((value, i) => (i === 2 ? (9 * (1 - Math.cos(80 * rad))) / 2 : value));
      expect(Array.from(powerResponse({ [plane]: map }).meanSquare)).toEqual(
        exact.map((value, i) => expect.closeTo((value + other[i]!) / 2, 12) as number),
      );
    }
  });

  it("counts its half planes in words", () => {
    const both = mapOf("horizontal", [-180, -90, 0, 90, 180], [100], () => 1);
    expect(powerResponse({ horizontal: both }).quadrature).toBe("exact zonal areas along 2 half planes through the axis, up to 180°");
    expect(powerResponse({ horizontal: mapOf("horizontal", [0, 90], [100], () => 1) }, { space: "half" }).quadrature).toBe(
      "exact zonal areas along 1 half plane through the axis, up to 90°",
    );
  });

  it("is refused by name, with what is wrong", () => {
    const map = mapOf("horizontal", [0, 120, 180], [100], () => 1);
    expect(() => powerResponse({ horizontal: map }, { space: "half" })).toThrow(
      /^powerResponse: the horizontal map must reach 90° off the axis, got 0°/,
    );
    expect(() => powerResponse({ horizontal: map }, { space: "x" } as never)).toThrow(/^powerResponse: "space" must be/);
    expect(() => powerResponse({ horizontal: map }, { extrapolate: 1 } as never)).toThrow(/^powerResponse: "extrapolate" must be/);
    expect(() => powerResponse({ horizontal: map }, { x: 1 } as never)).toThrow(/^powerResponse: .*x/);
    expect(() => powerResponse({ x: map } as never)).toThrow(/^powerResponse: .*x/);
    expect(() => powerResponse({ vertical: map })).toThrow(/^powerResponse: "vertical" must be a map of the vertical plane/);
    expect(() => powerResponse({ weights: 1 } as never)).toThrow(/^powerResponse: "data" must be a sphere map/);
    expect(() => powerResponse({ horizontal: mapOf("horizontal", [10, 180], [100], () => 1) })).toThrow(
      /^powerResponse: the map must hold 0°/,
    );
    expect(() => directivityIndex({} as never)).toThrow(/^directivityIndex: "power" must be a power response/);
    expect(() => radiatedPower({} as never)).toThrow(/^radiatedPower: "power" must be a power response/);
  });

  it("of silence is silence, with an index of 0 dB", () => {
    const power = powerResponse({ horizontal: mapOf("horizontal", steps(-180, 180, 30), [1000, 2000], (_, f) => (f === 1000 ? 0 : 1)) });
    expect(Array.from(power.levelDb)).toEqual([-Infinity, expect.closeTo(0, 12)]);
    expect(Array.from(directivityIndex(power).levelDb)).toEqual([0, expect.closeTo(0, 12)]);
  });

  it("needs maps that reach the end to half a step, and says how far it holds the outermost angle", () => {
    const cut = (angles: readonly number[]): PolarMap => mapOf("horizontal", angles, [1000], () => 1);
    expect(powerResponse({ horizontal: cut([0, ...steps(5, 175, 10)]) }).meanSquare[0]).toBeCloseTo(1, 12);
    expect(
      powerResponse(
        {
          horizontal: cut(
            steps(5, 85, 10)
              .concat(0)
              .sort((a, b) => a - b),
          ),
        },
        { space: "half" },
      ).marks,
    ).toHaveLength(1);
    expect(() => powerResponse({ horizontal: cut(steps(0, 80, 10)) }, { space: "half" })).toThrow(/must reach 90° off the axis, got 80°/);
    expect(() => powerResponse({ horizontal: cut(steps(0, 170, 10)) })).toThrow(/must reach 180° off the axis, got 170°/);
    // Held from 15° on: the cap within 15° at 1, all beyond at 1/4.
    const narrow = powerResponse(
      { horizontal: mapOf("horizontal", [0, 10, 20], [1000], (angle) => (angle < 15 ? 1 : 0.5)) },
      { extrapolate: true },
    );
    expect(narrow.meanSquare[0]).toBeCloseTo((1 - Math.cos(15 * rad)) / 2 + (0.25 * (1 + Math.cos(15 * rad))) / 2, 12);
    expect(narrow.marks!.map(({ note }) => note).join()).toMatch(/outermost measurement is held.*from 1 half plane:/);
    expect(() => powerResponse({ horizontal: cut([0]) })).toThrow(expect.objectContaining({ code: "missing-angle" }) as Error);
  });
});

describe("the power from a sphere", () => {
  const far = { distance: 1e5, air: { speedOfSound: c } };
  const meanSquare = (sources: readonly Source[], frequency: number, options: object = {}): number =>
    powerResponse(sphereMap(sources, [frequency], { ...far, quadrature: "gauss", stepDegrees: 10, ...options })).meanSquare[0]! * 1e10;

  it("of a dipole of any length is 2 − 2 sin(kD)/kD", () => {
    for (const kd of [0.1, 1, Math.PI, 5, 10]) {
      const path = 0.2;
      const frequency = (kd * c) / (2 * Math.PI * path);
      for (const rotation of [{}, { azimuth: 90 }, { elevation: 35, azimuth: 20 }]) {
        expect(meanSquare([dipoleSource(pointSource({ rotation }), { path })], frequency)).toBeCloseTo(2 - 2 * sinc(kd), 5);
      }
    }
  });

  it("of two monopoles in any direction and phase is 1 + g² + 2g cos ψ sin(kd)/kd", () => {
    for (const kd of [0, 0.5, 2, 6]) {
      const d = 0.3;
      const frequency = (kd * c) / (2 * Math.PI * d);
      for (const [x, y, z] of [
        [0, 0, 1],
        [0, 1, 0],
        [1, 0, 0],
        [0.48, 0.6, 0.64],
      ] as const) {
        for (const psi of [0, 90, 180, 50]) {
          const g = 0.7;
          const pair = [pointSource(), pointSource({ position: [d * x, d * y, d * z] })];
          const drives = [1, { re: g * Math.cos(psi * rad), im: g * Math.sin(psi * rad) }];
          expect(meanSquare(pair, frequency, { drives })).toBeCloseTo(1 + g * g + 2 * g * Math.cos(psi * rad) * sinc(kd), 4);
        }
      }
    }
  });

  it("of any source of elements that sound alike in all directions is the mean of sin(kR)/kR over all pairs of them", () => {
    const simpson = (n: number, f: (u: number) => number): number => {
      let sum = 0;
      for (let i = 0; i <= n; i++) sum += (i === 0 || i === n ? 1 : i % 2 === 1 ? 4 : 2) * f(i / n);
      return sum / (3 * n);
    };
    for (const ka of [0.5, 3, 8]) {
      const frequency = (ka * c) / (2 * Math.PI);
      const [k, length, radius, bend] = [ka, 1, 0.5, 0.6];
      // Distances u·L have the density 2(1 − u) along a line, chords of a ring are 2a sin ψ with ψ spread evenly.
      expect(meanSquare([lineSource({ length })], frequency)).toBeCloseTo(
        simpson(200, (u) => 2 * (1 - u) * sinc(k * length * u)),
        5,
      );
      expect(meanSquare([ringSource({ radius })], frequency)).toBeCloseTo(
        simpson(200, (u) => sinc(2 * k * radius * Math.sin(Math.PI * u))),
        5,
      );
      // An arc of radius R: chords 2R sin(L u/2R).
      expect(meanSquare([lineSource({ length, bendRadius: bend })], frequency)).toBeCloseTo(
        simpson(200, (u) => 2 * (1 - u) * sinc(2 * k * bend * Math.sin((length * u) / (2 * bend)))),
        5,
      );
      const [width, height] = [0.4, 0.9];
      const panel = simpson(60, (u) => 2 * (1 - u) * simpson(60, (v) => 2 * (1 - v) * sinc(k * Math.hypot(width * u, height * v))));
      expect(meanSquare([panelSource({ width, height })], frequency)).toBeCloseTo(panel, 5);
    }
  });

  it("in exact zones tends to the same as the square of the step", () => {
    const kd = 2;
    const pair = [pointSource(), pointSource({ position: [0, 0, 0.3] })];
    const exact = 2 + 2 * sinc(kd);
    const miss = [10, 5, 2.5].map(
      (stepDegrees) => meanSquare(pair, (kd * c) / (2 * Math.PI * 0.3), { quadrature: "zonal", stepDegrees }) / exact - 1,
    );
    expect(Math.abs(miss[0]!)).toBeLessThan(2e-3);
    expect(miss[0]! / miss[1]!).toBeCloseTo(4, 0);
    expect(miss[1]! / miss[2]!).toBeCloseTo(4, 0);
  });

  it("of a sphere is taken at each frequency by itself", () => {
    const frequencies = [50, 400, 900, 2000];
    const power = powerResponse(sphereMap([dipoleSource(pointSource(), { path: 0.2 })], frequencies, { ...far, quadrature: "gauss" }));
    frequencies.forEach((frequency, f) =>
      expect(power.meanSquare[f]! * 1e10).toBeCloseTo(2 - 2 * sinc((2 * Math.PI * frequency * 0.2) / c), 5),
    );
  });

  it("in watts is that of one monopole times what the neighbour adds", () => {
    const [d, frequency] = [0.3, 300];
    const air = { temperature: 25 };
    const speed = speedOfSound(air);
    const alone = (4 * Math.PI) / (airDensity(air) * speed);
    const pair = [pointSource(), pointSource({ position: [0, d, 0] })];
    const power = radiatedPower(powerResponse(sphereMap(pair, [frequency], { air, distance: 1e4, quadrature: "gauss", stepDegrees: 5 })), {
      air,
    })[0]!;
    expect(power / (alone * (2 + 2 * sinc((2 * Math.PI * frequency * d) / speed)))).toBeCloseTo(1, 5);
  });

  it("equals that of cuts through its poles, where the sphere is round about the axis", () => {
    const source = [dipoleSource(pointSource(), { path: 0.2 })];
    const frequency = 700;
    const cuts = powerResponse({ horizontal: polarMap(source, [frequency], { ...far, angles: steps(-180, 180, 1) }) });
    const kd = (2 * Math.PI * frequency * 0.2) / c;
    expect(cuts.meanSquare[0]! * 1e10).toBeCloseTo(2 - 2 * sinc(kd), 3);
    expect(directivityIndex(cuts).levelDb[0]).toBeCloseTo(10 * Math.log10((4 * Math.sin(kd / 2) ** 2) / (2 - 2 * sinc(kd))), 3);
  });
});

describe("zonal weights", () => {
  it("are the areas of zones up to the limit, wherever that is", () => {
    for (const limit of [0.5, 45, 90, 180]) {
      const angles = [0, 0.2 * limit, 0.9 * limit];
      const edges = [0, 0.1 * limit, 0.55 * limit, limit].map((edge) => Math.cos(edge * rad));
      expect(Array.from(zonalWeights(angles, { limit }))).toEqual(
        [0, 1, 2].map((i) => expect.closeTo((edges[i]! - edges[i + 1]!) / 2, 12) as number),
      );
    }
    expect(Array.from(zonalWeights([37]))).toEqual([expect.closeTo(1, 12)]);
    expect(zonalWeights(Float64Array.of(0, 180))[1]).toBeCloseTo(0.5, 12);
  });

  it("need angles, ascending, from 0° to the limit, which is at most 180°", () => {
    const refused: readonly [unknown, object, RegExp][] = [
      [[], {}, /^zonalWeights: "angles" must be an array/],
      ["90", {}, /^zonalWeights: "angles" must be an array/],
      [undefined, {}, /^zonalWeights: "angles" must be an array/],
      [[5, 5], {}, /^zonalWeights: "angles" must be strictly ascending, got 5° after 5°/],
      [[-1, 5], {}, /^zonalWeights: "angles\[0\]" must be/],
      [[0, 5, 181], {}, /^zonalWeights: "angles\[2\]" must be/],
      [[0], { limit: 0 }, /^zonalWeights: "limit" must be/],
      [[0], { limit: 180.5 }, /^zonalWeights: "limit" must be/],
      [[0], { end: 90 }, /^zonalWeights: .*end/],
    ];
    for (const [angles, options, message] of refused) expect(() => zonalWeights(angles as never, options)).toThrow(message);
  });
});
