// Tests src/radiation/: line-directivity.ts
// Laws of sound fields: reciprocity, superposition, far-field limits, radiated power, rotation, delay.
import { uniform } from "../support/uniform";
import { type Point } from "dividing-network/physics";
import {
  directivityIndex,
  dipoleSource,
  lineDirectivity,
  lineSource,
  panelSource,
  pistonDirectivity,
  pistonDirectivityIndex,
  pistonSource,
  pointSource,
  powerResponse,
  pressureAt,
  ringDirectivity,
  ringSource,
  sphereMap,
  type Rotation,
  type Source,
} from "dividing-network/radiation";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { cases } from "../support/cases";

const coordinate = uniform(-3, 3);
const place = fc.tuple(coordinate, coordinate, coordinate) as fc.Arbitrary<Point>;
const frequency = fc.double({ min: Math.log(20), max: Math.log(20000), noNaN: true }).map(Math.exp);
const length = fc.double({ min: Math.log(0.02), max: Math.log(2), noNaN: true }).map(Math.exp);
const away = (a: Point, b: Point): number => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
type Placement = { position: Point; rotation: Rotation };
const angle = uniform(-180, 180);
const placement: fc.Arbitrary<Placement> = fc.record({
  position: place,
  rotation: fc.record({ azimuth: angle, elevation: angle, roll: angle }),
});
const kinds = [
  (size: number, at: Placement): Source => pointSource({ ...at, gainDb: size }),
  (size: number, at: Placement): Source => lineSource({ ...at, length: size }),
  (size: number, at: Placement): Source => panelSource({ ...at, width: size / 3, height: size }),
  (size: number, at: Placement): Source => pistonSource({ ...at, radius: size / 4, mounting: "simple" }),
  (size: number, at: Placement): Source => ringSource({ ...at, radius: size / 4 }),
  (size: number, at: Placement): Source => dipoleSource(lineSource({ ...at, length: size }), { path: size / 5 }),
  (size: number, at: Placement): Source => lineSource({ ...at, length: size, bendRadius: 2 * size, mounting: "free-edge" }),
  (size: number, at: Placement): Source => panelSource({ ...at, width: size / 5, height: size, bendRadius: -size, mounting: "free-edge" }),
  (size: number, at: Placement): Source => pistonSource({ ...at, radius: size / 4, mounting: "free-edge" }),
  (size: number, at: Placement): Source => ringSource({ ...at, radius: size / 4, mounting: "free-edge" }),
];
const anySource = fc.tuple(fc.constantFrom(...kinds), length, placement).map(([make, size, at]) => make(size, at));
const pressure = (sources: readonly Source[], f: number, point: Point, floor?: number): [number, number] => {
  const { re, im } = pressureAt(sources, [f], { points: [point], ...(floor === undefined ? {} : { floor }) });
  return [re[0]!, im[0]!];
};

describe("sound fields", () => {
  it("are reciprocal: source and receiver may change places, above a floor too", () => {
    fc.assert(
      fc.property(place, place, frequency, (a, b, f) => {
        fc.pre(away(a, b) > 0.01);
        const there = pressure([pointSource({ position: a })], f, b, -3);
        const back = pressure([pointSource({ position: b })], f, a, -3);
        const scale = 2 / away(a, b);
        expect(Math.hypot(there[0] - back[0], there[1] - back[1])).toBeLessThan(1e-9 * scale);
      }),
    );
  });

  it("are reciprocal for extended sources: the mean over the surface of a receiver, element by element", () => {
    fc.assert(
      fc.property(length, place, frequency, (size, point, f) => {
        const line = lineSource({ length: size });
        fc.pre(Math.hypot(point[0], point[1]) > size / 10 && Math.hypot(point[0], point[1]) > 0.05);
        const forward = pressure([line], f, point);
        // A line of small microphones, whose signals are averaged, hears a monopole at the point.
        const n = 4000;
        const places = Array.from({ length: n }, (_, i): Point => [0, 0, size * ((i + 0.5) / n - 0.5)]);
        const { re, im } = pressureAt([pointSource({ position: point })], [f], { points: places });
        const back = [re, im].map((part) => part.reduce((sum, value) => sum + value, 0) / n);
        const inPhase = 1 / Math.hypot(point[0], point[1]);
        expect(Math.hypot(forward[0] - back[0]!, forward[1] - back[1]!)).toBeLessThan(
          (1e-6 + (((size * f) / 340 / n) * 7) ** 2 / 12) * inPhase,
        );
      }),
      { numRuns: cases(25) },
    );
  });

  it("superpose", () => {
    fc.assert(
      fc.property(anySource, anySource, place, frequency, (a, b, point, f) => {
        fc.pre(away(a.position, point) > 1.5 && away(b.position, point) > 1.5);
        const both = pressure([a, b], f, point);
        const [one, other] = [pressure([a], f, point), pressure([b], f, point)];
        expect(both[0]).toBeCloseTo(one[0] + other[0], 10);
        expect(both[1]).toBeCloseTo(one[1] + other[1], 10);
      }),
    );
  });

  it("do not change when everything is turned and moved together", () => {
    fc.assert(
      fc.property(fc.constantFrom(...kinds), length, place, place, angle, frequency, (make, size, position, point, turn, f) => {
        fc.pre(away(position, point) > 1.5);
        const before = pressure([make(size, { position, rotation: {} })], f, point);
        const [c, s] = [Math.cos((turn * Math.PI) / 180), Math.sin((turn * Math.PI) / 180)];
        const moved = ([x, y, z]: Point): Point => [c * x - s * y + 1, s * x + c * y - 2, z + 0.5];
        const after = pressure([make(size, { position: moved(position), rotation: { azimuth: turn } })], f, moved(point));
        const tolerance = 3e-6 * 10 ** (Math.max(0, size) / 20);
        expect(Math.abs(after[0] - before[0])).toBeLessThan(tolerance);
        expect(Math.abs(after[1] - before[1])).toBeLessThan(tolerance);
      }),
    );
  });

  it("turn by −360° f τ for a delay τ", () => {
    fc.assert(
      fc.property(place, frequency, uniform(-5e-3, 5e-3), (point, f, delay) => {
        fc.pre(Math.hypot(...point) > 0.1);
        const [a, b] = [pressure([pointSource()], f, point), pressure([pointSource({ delay })], f, point)];
        const turn = -2 * Math.PI * f * delay;
        expect(b[0]).toBeCloseTo(a[0] * Math.cos(turn) - a[1] * Math.sin(turn), 9);
        expect(b[1]).toBeCloseTo(a[0] * Math.sin(turn) + a[1] * Math.cos(turn), 9);
      }),
    );
  });

  it("tend to the far-field patterns: 2J1(x)/x, sin x/x and J0(x), within the reported error and a²/r", () => {
    const c = 340;
    fc.assert(
      fc.property(fc.double({ min: 0.1, max: 20, noNaN: true }), uniform(0, 89), (ka, degrees) => {
        const a = 0.1;
        const f = (ka * c) / (2 * Math.PI * a);
        const r = 1e5;
        const theta = (degrees * Math.PI) / 180;
        const inPlane: Point = [r * Math.cos(theta), 0, r * Math.sin(theta)];
        const far = (source: Source): number => {
          const { re, im, errorEstimate } = pressureAt([source], [f], { points: [inPlane], air: { speedOfSound: c }, tolerance: 1e-8 });
          expect(errorEstimate).toBeLessThan(1e-8);
          return r * Math.hypot(re[0]!, im[0]!);
        };
        const limit = 2e-5;
        expect(Math.abs(far(pistonSource({ radius: a })) - Math.abs(pistonDirectivity({ ka, angle: degrees })))).toBeLessThan(limit);
        expect(Math.abs(far(lineSource({ length: a })) - Math.abs(lineDirectivity({ kl: ka, angle: degrees })))).toBeLessThan(limit);
        expect(Math.abs(far(ringSource({ radius: a })) - Math.abs(ringDirectivity({ ka, angle: degrees })))).toBeLessThan(limit);
      }),
    );
  });

  it("carry the power that the source radiates: a piston's directivity index follows 1 − J1(2ka)/ka", () => {
    fc.assert(
      fc.property(fc.double({ min: 0.05, max: 12, noNaN: true }), (ka) => {
        const a = 0.1;
        const f = (ka * 340) / (2 * Math.PI * a);
        const sphere = sphereMap([pistonSource({ radius: a })], [f], {
          quadrature: "gauss",
          stepDegrees: 4,
          distance: 1e4,
          air: { speedOfSound: 340 },
        });
        expect(Math.abs(directivityIndex(powerResponse(sphere)).levelDb[0]! - pistonDirectivityIndex({ ka }))).toBeLessThan(1e-4);
      }),
      { numRuns: cases(20) },
    );
  });

  it("carry the same power through every sphere around them", () => {
    fc.assert(
      fc.property(length, frequency, (size, f) => {
        fc.pre(size * f < 1500);
        const power = [3 * size, 30 * size].map((distance) => {
          const { meanSquare } = powerResponse(
            sphereMap([lineSource({ length: size })], [f], { quadrature: "gauss", stepDegrees: 4, distance }),
          );
          return meanSquare[0]! * distance ** 2;
        });
        // |p|² holds the reactive part of the near field too, which falls with the square of size/distance.
        expect(Math.abs(power[1]! / power[0]! - 1)).toBeLessThan(0.03);
      }),
      { numRuns: cases(20) },
    );
  });
});
