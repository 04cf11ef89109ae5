// Tests src/radiation/: panel-source.ts, points-needed.ts, ring-source.ts
// The field of extended sources against a plain midpoint sum over their surface, extrapolated from two grids: an oracle that knows nothing of the rules
// under test. Near and far, on and off the axis, beside and close to the surface.
import { type Point } from "dividing-network/physics";
import { lineSource, panelSource, pistonSource, pressureAt, ringSource, type Source } from "dividing-network/radiation";
import { describe, expect, it } from "vitest";

const speedOfSound = 343;
type Element = readonly [x: number, y: number, z: number, weight: number, normalX: number, normalZ: number];

/** Σ w e^(−jkR)/R over Σ w, with the obliquity (1 + cos θ)/2 when asked. */
function plainSum(elements: Iterable<Element>, [x, y, z]: Point, k: number, oblique: boolean): [number, number] {
  let [re, im, total] = [0, 0, 0];
  for (const [ex, ey, ez, weight, nx, nz] of elements) {
    const r = Math.hypot(x - ex, y - ey, z - ez);
    const a = ((oblique ? (1 + ((x - ex) * nx + (z - ez) * nz) / r) / 2 : 1) * weight) / r;
    re += a * Math.cos(k * r);
    im -= a * Math.sin(k * r);
    total += weight;
  }
  return [re / total, im / total];
}

function* rectangle(width: number, height: number, n: number, bend?: number): Iterable<Element> {
  const across = width === 0 ? 1 : n;
  const along = width === 0 ? n * n : n;
  for (let i = 0; i < along; i++) {
    const s = height * ((i + 0.5) / along - 0.5);
    const angle = bend === undefined ? 0 : s / bend;
    const [x, z] = bend === undefined ? [0, s] : [bend * (Math.cos(angle) - 1), bend * Math.sin(angle)];
    for (let j = 0; j < across; j++) yield [x, width * ((j + 0.5) / across - 0.5), z, 1, Math.cos(angle), Math.sin(angle)];
  }
}

function* disc(inner: number, outer: number, n: number): Iterable<Element> {
  for (let i = 0; i < n; i++) {
    const r = inner + (outer - inner) * ((i + 0.5) / n);
    for (let j = 0; j < n; j++) {
      const angle = (2 * Math.PI * (j + 0.5)) / n;
      yield [0, r * Math.cos(angle), r * Math.sin(angle), r, 1, 0];
    }
  }
}

function* ring(radius: number, n: number): Iterable<Element> {
  for (let j = 0; j < n; j++) yield [0, radius * Math.cos((2 * Math.PI * j) / n), radius * Math.sin((2 * Math.PI * j) / n), 1, 1, 0];
}

const cases: readonly [name: string, source: Source, elements: (n: number) => Iterable<Element>, oblique?: boolean][] = [
  ["a line", lineSource({ length: 1.5 }), (n) => rectangle(0, 1.5, n)],
  ["a line with width", lineSource({ length: 1.2, width: 0.01 }), (n) => rectangle(0.01, 1.2, n)],
  ["a panel", panelSource({ width: 0.3, height: 0.8 }), (n) => rectangle(0.3, 0.8, n)],
  ["a panel with free edges", panelSource({ width: 0.2, height: 0.5, mounting: "free-edge" }), (n) => rectangle(0.2, 0.5, n), true],
  ["a line bent forwards", lineSource({ length: 1.5, bendRadius: 1 }), (n) => rectangle(0, 1.5, n, 1)],
  ["a hollow panel", panelSource({ width: 0.1, height: 1, bendRadius: -2 }), (n) => rectangle(0.1, 1, n, -2)],
  ["a bent line with free edges", lineSource({ length: 1, bendRadius: 0.8, mounting: "free-edge" }), (n) => rectangle(0, 1, n, 0.8), true],
  ["a piston", pistonSource({ radius: 0.1, mounting: "simple" }), (n) => disc(0, 0.1, n)],
  ["an annulus", pistonSource({ radius: 0.1, innerRadius: 0.06 }), (n) => disc(0.06, 0.1, n)],
  ["a piston with a free edge", pistonSource({ radius: 0.08, mounting: "free-edge" }), (n) => disc(0, 0.08, n), true],
  ["a ring", ringSource({ radius: 0.3 }), (n) => ring(0.3, n * n)],
];
const points: readonly Point[] = [
  [1, 0, 0],
  [3, 0.4, -0.7],
  [0.3, 0.5, 0.2],
  [0.06, 0.02, 0.01],
  [0, 1, 0.3],
  [10, 5, 2],
];
const frequencies = [50, 1000, 8000];

describe("the field of an extended source", () => {
  it.each(cases)("of %s is that of its elements", (_name, source, elements, oblique = false) => {
    const field = pressureAt([source], frequencies, { points, air: { speedOfSound } });
    expect(field.errorEstimate).toBeLessThanOrEqual(1e-6);
    points.forEach((point, p) => {
      frequencies.forEach((frequency, f) => {
        const k = (2 * Math.PI * frequency) / speedOfSound;
        const [coarse, fine] = [90, 180].map((n) => plainSum(elements(n), point, k, oblique)) as [[number, number], [number, number]];
        const [inPhase] = plainSum(elements(90), point, 0, oblique);
        const extrapolated = [0, 1].map((i) => (4 * fine[i as 0]! - coarse[i as 0]!) / 3) as [number, number];
        // Richardson's extrapolation leaves a share of what it removed.
        const doubt = 0.05 * Math.hypot(fine[0] - coarse[0], fine[1] - coarse[1]);
        const error = Math.hypot(field.re[p * 3 + f]! - extrapolated[0], field.im[p * 3 + f]! - extrapolated[1]);
        expect(error, `at ${String(point)} m, ${frequency} Hz`).toBeLessThan(1.5e-6 * inPhase + doubt);
        expect(doubt).toBeLessThan(2e-3 * inPhase);
      });
    });
  });

  it("reaches a stated tolerance: its own estimate bounds the error against a much finer sum", () => {
    const sources = [
      lineSource({ length: 1.2 }),
      panelSource({ width: 0.25, height: 1 }),
      pistonSource({ radius: 0.125 }),
      ringSource({ radius: 0.2 }),
      lineSource({ length: 1.5, bendRadius: 1.2 }),
    ];
    const angles = Array.from({ length: 37 }, (_, i) => (-90 + 5 * i) * (Math.PI / 180));
    const around = [0.7, 3].flatMap((r) =>
      angles.map((angle): Point => [r * Math.cos(angle), 0.3 * r * Math.sin(angle), r * Math.sin(angle)]),
    );
    const grid = Float64Array.from({ length: 60 }, (_, i) => 20 * 1000 ** (i / 59));
    for (const source of sources) {
      const fine = pressureAt([source], grid, { points: around, tolerance: 1e-9 });
      for (const tolerance of [1e-3, 1e-6]) {
        const field = pressureAt([source], grid, { points: around, tolerance });
        let worst = 0;
        field.re.forEach((re, i) => {
          const distance = Math.hypot(...around[Math.floor(i / grid.length)]!);
          worst = Math.max(worst, Math.hypot(re - fine.re[i]!, field.im[i]! - fine.im[i]!) * distance);
        });
        expect(field.errorEstimate).toBeLessThanOrEqual(tolerance);
        expect(worst).toBeLessThan(1.5 * tolerance);
      }
    }
  });

  it("is finite on the surface of a piston and a panel, where the static limit is known", () => {
    // In the middle of a disc ∫dS/R / S = 2/a; of a square of side b it is 4 asinh(1) / b.
    expect(pressureAt([pistonSource({ radius: 0.1 })], [0], { points: [[0, 0, 0]] }).re[0]).toBeCloseTo(20, 9);
    expect(pressureAt([panelSource({ width: 0.2, height: 0.2 })], [0], { points: [[0, 0, 0]], tolerance: 1e-9 }).re[0]).toBeCloseTo(
      (4 * Math.asinh(1)) / 0.2,
      7,
    );
  });

  it("on the axis of a piston is the closed form at all frequencies and distances", () => {
    const a = 0.12;
    const xs = [0.001, 0.05, 0.4, 3];
    const grid = [20, 500, 5000, 20000];
    const field = pressureAt([pistonSource({ radius: a })], grid, { points: xs.map((x): Point => [x, 0, 0]), air: { speedOfSound } });
    xs.forEach((x, p) =>
      grid.forEach((frequency, f) => {
        const k = (2 * Math.PI * frequency) / speedOfSound;
        const r = Math.hypot(x, a);
        // |e^(−jkx) − e^(−jkr)| · 2 / (k a²)
        const exact = (4 / (k * a * a)) * Math.abs(Math.sin((k * (r - x)) / 2));
        expect(Math.abs(Math.hypot(field.re[p * 4 + f]!, field.im[p * 4 + f]!) - exact) * r).toBeLessThan(1e-9);
      }),
    );
  });

  it("refuses a point on a line, a ring or a monopole, and points too close for the tolerance", () => {
    expect(() => pressureAt([lineSource({ length: 1 })], [100], { points: [[0, 0, 0.2]] })).toThrow(
      /must not lie on a source|more than 2048 points/,
    );
    expect(() => pressureAt([ringSource({ radius: 0.1 })], [100], { points: [[0, 0.1, 0]] })).toThrow(/pressureAt/);
    expect(() => pressureAt([lineSource({ length: 100 })], [20000], { points: [[1e-3, 0, 0]] })).toThrow(/accuracy|more than 2048 points/);
  });
});

describe("the balance of a tall source against distance", () => {
  const fall = (source: Source, from: number, frequency = 1000): number => {
    const { re, im } = pressureAt([source], [frequency], {
      points: [
        [from, 0, 0],
        [2 * from, 0, 0],
      ],
    });
    return 10 * Math.log10((re[0]! ** 2 + im[0]! ** 2) / (re[1]! ** 2 + im[1]! ** 2));
  };

  it("falls about 3 dB per doubling near a line and 6 dB far away", () => {
    const tall = lineSource({ length: 4 });
    expect(fall(tall, 0.125)).toBeGreaterThan(2.6);
    expect(fall(tall, 0.125)).toBeLessThan(3.4);
    expect(fall(tall, 100)).toBeCloseTo(6.02, 1);
  });

  it("falls less near a wide panel than near a line", () => {
    // At low frequency, where a wide panel's own ripples do not blur the picture.
    expect(fall(panelSource({ width: 2, height: 4 }), 0.25, 20)).toBeLessThan(fall(lineSource({ length: 4 }), 0.25, 20) - 0.5);
  });
});
