// Tests src/parts/: coupling.ts
// Tests src/parts/winding/: gap.ts, mutual-mean.ts
// Mutual inductance of coils in any position: Neumann's double integral, the coaxial closed form, the dipole far away, symmetries, and the network.
import { DividingNetworkError } from "dividing-network/errors";
import {
  capacitor,
  coaxialMutualInductance,
  coupling,
  couplingFromPlacement,
  inductor,
  resistor,
  windingInductance,
} from "dividing-network/parts";
import { VACUUM_PERMEABILITY } from "dividing-network/physics";
import { solve } from "dividing-network/network";
import { valueAt } from "dividing-network/response";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { cases } from "../../support/cases";
import { uniform } from "../../support/uniform";
import { neumannMean, type Place, type Shape } from "./by-neumann";

const woofer = { turns: 160, meanRadius: 0.022, length: 0.02, depth: 0.014 };
const tweeter = { turns: 90, meanRadius: 0.013, length: 0.015, depth: 0.008 };
const direction = fc
  .tuple(uniform(-1, 1), uniform(0, 2 * Math.PI))
  .map(([z, angle]) => ({ x: Math.sqrt(1 - z * z) * Math.cos(angle), y: Math.sqrt(1 - z * z) * Math.sin(angle), z }));
const shape = fc.record({ meanRadius: uniform(0.012, 0.03), length: uniform(0.004, 0.03), depth: uniform(0.002, 0.015) });
const reach = ({ meanRadius, length, depth }: Shape): number => Math.hypot(meanRadius + depth / 2, length / 2);
/** A place at which two coils keep a distance of at least 30 % of their sizes. */
const apart = (a: Shape, b: Shape) =>
  fc.tuple(direction, uniform(1.3, 4), direction).map(([way, far, axis]): Place => {
    const r = far * (reach(a) + reach(b));
    return { x: r * way.x, y: r * way.y, z: r * way.z, axis };
  });
const pair = fc.tuple(shape, shape).chain(([a, b]) => fc.tuple(fc.constant(a), fc.constant(b), apart(a, b)));
const one = (each: Shape) => ({ turns: 1, ...each });

describe("the mutual inductance of two coils", () => {
  it("is that of Neumann's double integral, wherever they are", () => {
    fc.assert(
      fc.property(pair, ([a, b, place]) => {
        const { mutualInductance, k, error } = couplingFromPlacement(one(a), one(b), place);
        const expected = VACUUM_PERMEABILITY * neumannMean(a, b, place, 6, 32);
        const scale = mutualInductance / k;
        // The sum of what is positive is some 1e-9 to 0.1 of the scale; the dipole's size bounds it.
        const dipole = (reach(a) * reach(b)) ** 1.5 / Math.hypot(place.x, place.y, place.z) ** 3;
        expect(Math.abs(mutualInductance - expected)).toBeLessThan(1e-6 * Math.abs(expected) + 1e-7 * dipole * scale);
        expect(error).toBeLessThan(1e-6 * Math.abs(k) + 1e-7 * dipole);
      }),
      { numRuns: cases(6) },
    );
  });

  it("is that of Neumann's double integral for a flat coil that stands behind the end of a long one, nearly across", () => {
    const [flat, long] = [
      { meanRadius: 0.012, length: 0.004, depth: 0.002 },
      { meanRadius: 0.012, length: 0.021079374788329004, depth: 0.002 },
    ];
    const place = { x: 0, y: 0, z: -0.03885529303036149, axis: { x: 0.9760079279763095, y: 0, z: -0.21773498691618443 } };
    const { mutualInductance } = couplingFromPlacement(one(flat), one(long), place);
    // Four points of the section of each leave the integral 2e-6 short, six 1e-9.
    expect(Math.abs(mutualInductance / (VACUUM_PERMEABILITY * neumannMean(flat, long, place, 8, 48)) - 1)).toBeLessThan(1e-10);
  });

  it.each<[string, Place]>([
    // Five points of the section of each don't bring this one closer than 8e-5; eight bring it to 5e-6.
    ["side by side, 2 mm apart", { x: 0.06, y: 0, z: 0 }],
    ["above one another, 3 mm apart", { x: 0.005, y: 0, z: 0.023 }],
    ["one standing beside the other", { x: 0.045, y: 0.01, z: 0.02, axis: { x: 1, y: 0, z: 0.2 } }],
  ])("is that of Neumann's double integral for coils %s", (_what, place) => {
    const { mutualInductance } = couplingFromPlacement(woofer, woofer, place);
    expect(Math.abs(mutualInductance / (160 * 160 * VACUUM_PERMEABILITY * neumannMean(woofer, woofer, place, 5, 80)) - 1)).toBeLessThan(
      1e-4,
    );
  });

  it("is the closed form for thin coaxial rings", () => {
    for (const [radiusA, radiusB, distance] of [
      [0.03, 0.03, 0.002],
      [0.03, 0.01, 0.02],
      [0.02, 0.05, 0.001],
      [0.02, 0.02, 1],
    ] as const) {
      const thin = (meanRadius: number) => ({ turns: 1, meanRadius, length: 1e-9, depth: 1e-9 });
      const { mutualInductance } = couplingFromPlacement(thin(radiusA), thin(radiusB), { x: 0, y: 0, z: distance });
      expect(Math.abs(mutualInductance / coaxialMutualInductance({ radiusA, radiusB, distance }) - 1)).toBeLessThan(1e-9);
    }
  });

  it("of tilted coils is the closed form once the tilt is small", () => {
    const exact = couplingFromPlacement(woofer, tweeter, { x: 0, y: 0, z: 0.05 }).mutualInductance;
    const nearly = couplingFromPlacement(woofer, tweeter, {
      x: 1e-7,
      y: 2e-7,
      z: 0.05,
      axis: { x: 1e-6, y: -2e-6, z: 1 },
    }).mutualInductance;
    expect(Math.abs(nearly / exact - 1)).toBeLessThan(1e-7);
  });

  it("is the same seen from either", () => {
    fc.assert(
      fc.property(pair, ([a, b, place]) => {
        const there = couplingFromPlacement(one(a), one(b), place);
        // The first as seen from the second: its axis is z there, and x and y are any two directions across it.
        const n = [place.axis!.x, place.axis!.y, place.axis!.z];
        const helper = Math.abs(n[2]!) > 0.7 ? [1, 0, 0] : [0, 0, 1];
        const raw = [
          n[1]! * helper[2]! - n[2]! * helper[1]!,
          n[2]! * helper[0]! - n[0]! * helper[2]!,
          n[0]! * helper[1]! - n[1]! * helper[0]!,
        ];
        const u = raw.map((each) => each / Math.hypot(...raw));
        const v = [n[1]! * u[2]! - n[2]! * u[1]!, n[2]! * u[0]! - n[0]! * u[2]!, n[0]! * u[1]! - n[1]! * u[0]!];
        const seen = (w: readonly number[]) => ({
          x: w[0]! * u[0]! + w[1]! * u[1]! + w[2]! * u[2]!,
          y: w[0]! * v[0]! + w[1]! * v[1]! + w[2]! * v[2]!,
          z: w[0]! * n[0]! + w[1]! * n[1]! + w[2]! * n[2]!,
        });
        const back = couplingFromPlacement(one(b), one(a), { ...seen([-place.x, -place.y, -place.z]), axis: seen([0, 0, 1]) });
        expect(Math.abs(back.k - there.k)).toBeLessThanOrEqual(2e-6 * Math.abs(there.k) + 1e-10);
      }),
      { numRuns: cases(40) },
    );
  });

  it("scales with size and with the turns of both, and turns its sign with an axis", () => {
    fc.assert(
      fc.property(pair, uniform(0.2, 5), ([a, b, place], size) => {
        const base = couplingFromPlacement(one(a), one(b), place);
        const times = (each: Shape) => ({
          turns: 10,
          meanRadius: size * each.meanRadius,
          length: size * each.length,
          depth: size * each.depth,
        });
        const larger = couplingFromPlacement(times(a), times(b), {
          x: size * place.x,
          y: size * place.y,
          z: size * place.z,
          axis: place.axis!,
        });
        expect(Math.abs(larger.k - base.k)).toBeLessThanOrEqual(1e-8 * Math.abs(base.k) + 1e-13);
        expect(larger.mutualInductance / size / 100 / base.mutualInductance).toBeCloseTo(1, 7);
        const turned = couplingFromPlacement(one(a), one(b), {
          ...place,
          axis: { x: -place.axis!.x, y: -place.axis!.y, z: -place.axis!.z },
        });
        expect(Math.abs(turned.k + base.k)).toBeLessThanOrEqual(1e-8 * Math.abs(base.k) + 1e-13);
      }),
      { numRuns: cases(20) },
    );
  });

  it("tends to that of two dipoles far away", () => {
    fc.assert(
      fc.property(shape, shape, direction, direction, (a, b, way, axis) => {
        const r = 300 * (reach(a) + reach(b));
        const { mutualInductance } = couplingFromPlacement(one(a), one(b), { x: r * way.x, y: r * way.y, z: r * way.z, axis });
        // Mean area of the turns of a section, π(a² + w²/12); the field of a dipole along z.
        const area = (each: Shape) => Math.PI * (each.meanRadius ** 2 + each.depth ** 2 / 12);
        const along = 3 * way.z * (way.x * axis.x + way.y * axis.y + way.z * axis.z) - axis.z;
        const unit = (VACUUM_PERMEABILITY * area(a) * area(b)) / (4 * Math.PI * r ** 3);
        expect(Math.abs(mutualInductance / unit - along)).toBeLessThan(1e-4);
      }),
      { numRuns: cases(60) },
    );
  });

  it("stays below the geometric mean of the self-inductances, also for coils that touch or lie in one another", () => {
    for (const [b, place] of [
      [woofer, { x: 0, y: 0, z: 0.02 }],
      [
        { turns: 80, meanRadius: 0.012, length: 0.02, depth: 0.006 },
        { x: 0, y: 0, z: 0 },
      ],
      [
        { turns: 5, meanRadius: 0.022, length: 0.0001, depth: 0.014 },
        { x: 0, y: 0, z: 0.01006 },
      ],
    ] as const) {
      const { k, mutualInductance } = couplingFromPlacement(woofer, b, place);
      expect(k).toBeGreaterThan(0.3);
      expect(k).toBeLessThan(1);
      expect(k / (mutualInductance / Math.sqrt(windingInductance(woofer) * windingInductance(b)))).toBeCloseTo(1, 10);
    }
  });

  it("of a short coil round a long thin one, or beside its end, is the sum over the long one's pieces", () => {
    const rod = { turns: 1000, meanRadius: 0.01, length: 1, depth: 0.002 };
    const piece = { ...rod, turns: 50, length: 0.05 };
    const ring = { turns: 10, meanRadius: 0.02, length: 0.008, depth: 0.004 };
    for (const place of [
      { x: 0, y: 0, z: 0.013 },
      { x: 0.004, y: 0, z: 0.2, axis: { x: 0.1, y: 0.1, z: 1 } },
      { x: 0.06, y: 0, z: 0.49, axis: { x: 1, y: 0, z: 1 } },
    ]) {
      let sum = 0;
      for (let i = 0; i < 20; i++) sum += couplingFromPlacement(piece, ring, { ...place, z: place.z - (i - 9.5) * 0.05 }).mutualInductance;
      const { mutualInductance, k, error } = couplingFromPlacement(rod, ring, place);
      expect(Math.abs(mutualInductance / sum - 1)).toBeLessThan(2e-6);
      expect(error).toBeLessThan(1e-5 * Math.abs(k));
    }
  });

  it("states an error that holds", () => {
    for (const place of [
      { x: 0.0581, y: 0, z: 0 },
      { x: 0, y: 0, z: 0.02 },
      { x: 0, y: 0, z: 0.0201 },
      { x: 0.04, y: 0.03, z: 0.012, axis: { x: 1, y: 1, z: 1 } },
    ]) {
      const { k, error } = couplingFromPlacement(woofer, woofer, place);
      // Each coil as two halves along its axis: four smaller pairs, other points.
      const half = { ...woofer, turns: 80, length: 0.01 };
      const axis = place.axis ?? { x: 0, y: 0, z: 1 };
      const size = Math.hypot(axis.x, axis.y, axis.z);
      let sum = 0;
      for (const up of [-0.005, 0.005])
        for (const along of [-0.005, 0.005]) {
          sum += couplingFromPlacement(half, half, {
            x: place.x + (along * axis.x) / size,
            y: place.y + (along * axis.y) / size,
            z: place.z + (along * axis.z) / size - up,
            axis,
          }).mutualInductance;
        }
      expect(Math.abs(sum / windingInductance(woofer) - k)).toBeLessThan(2 * error + 2e-7 * Math.abs(k));
      expect(error).toBeLessThan(2e-6);
    }
  });
});

describe("what the trade does", () => {
  const k = (place: Place) => Math.abs(couplingFromPlacement(woofer, woofer, place).k);

  it("coils at right angles with their centres in a plane of symmetry don't couple", () => {
    expect(k({ x: 0.07, y: 0, z: 0, axis: { x: 1, y: 0, z: 0 } })).toBeLessThan(1e-15);
    expect(k({ x: 0.07, y: 0.01, z: 0, axis: { x: 3, y: -2, z: 0 } })).toBeLessThan(1e-15);
    expect(k({ x: 0.04, y: 0, z: 0.05, axis: { x: 0, y: 1, z: 0 } })).toBeLessThan(1e-15);
    expect(k({ x: 0, y: 0, z: 0.06, axis: { x: 1, y: 1, z: 0 } })).toBeLessThan(1e-15);
  });

  it("right angles alone don't do: off both planes they couple", () => {
    expect(k({ x: 0.05, y: 0, z: 0.04, axis: { x: 1, y: 0, z: 0 } })).toBeGreaterThan(0.005);
  });

  it("twice the distance makes an eighth, of coils that are some sizes apart", () => {
    expect(k({ x: 0.3, y: 0, z: 0 }) / k({ x: 0.6, y: 0, z: 0 })).toBeCloseTo(8, 0);
  });

  it("coils side by side couple less than coils above one another at the same distance, and with the other sign", () => {
    expect(k({ x: 0.1, y: 0, z: 0 })).toBeLessThan(k({ x: 0, y: 0, z: 0.1 }));
    expect(couplingFromPlacement(woofer, woofer, { x: 0.1, y: 0, z: 0 }).k).toBeLessThan(0);
  });

  it("goes straight into a network", () => {
    const found = couplingFromPlacement(woofer, tweeter, { x: 0.05, y: 0, z: 0 });
    const [l1, l2] = [windingInductance(woofer), windingInductance(tweeter)];
    const series = { L1: [inductor(l1), "in", "a"], L2: [inductor(l2), "a", "gnd"], K1: [coupling(found.k), "L1", "L2"] } as const;
    expect(valueAt(solve(series, [1000]).impedance, 1000).im / (2000 * Math.PI)).toBeCloseTo(l1 + l2 + 2 * found.mutualInductance, 12);
    // The woofer's coil disturbs the tweeter's branch, though no wire joins them.
    const branches = {
      L1: [inductor(l1, { dcr: 0.3 }), "in", "w"],
      woofer: [resistor(6), "w", "gnd"],
      C1: [capacitor("4.7 µF"), "in", "t"],
      L2: [inductor(l2), "t", "gnd"],
      tweeter: [resistor(6), "t", "gnd"],
      K1: [coupling(found.k), "L1", "L2"],
    } as const;
    const { K1: _none, ...uncoupled } = branches;
    const level = (entries: typeof uncoupled | typeof branches) => valueAt(solve(entries, [300]).voltage("t" as never), 300).abs();
    expect(Math.abs(level(branches) / level(uncoupled) - 1)).toBeGreaterThan(0.01);
  });
});

describe("a place that can't be", () => {
  it("overlapping coils are refused", () => {
    for (const place of [
      { x: 0.05, y: 0, z: 0 },
      { x: 0, y: 0, z: 0 },
      { x: 0.02, y: 0, z: 0.01, axis: { x: 1, y: 0, z: 0 } },
    ]) {
      expect(() => couplingFromPlacement(woofer, woofer, place)).toThrow(expect.objectContaining({ code: "coils-overlap" }));
    }
    // A thin ring may pass through the bore or outside, but not through the copper, at whatever point of its turn.
    const ring = { turns: 1, meanRadius: 0.1, length: 1e-4, depth: 1e-4 };
    for (const angle of [0, 0.03, 0.065, 1]) {
      const through = (x: number) => () =>
        couplingFromPlacement(woofer, ring, { x: x + 0.1 * Math.cos(angle), y: 0.1 * Math.sin(angle), z: 0, axis: { x: 0, y: 0, z: 1 } });
      expect(through(0.022)).toThrow(expect.objectContaining({ code: "coils-overlap" }));
      const upright = (x: number) => () =>
        couplingFromPlacement(woofer, ring, { x, y: 0.1 * Math.cos(angle), z: 0.1 * Math.sin(angle), axis: { x: 1, y: 0, z: 0 } });
      expect(upright(0.022)).toThrow(expect.objectContaining({ code: "coils-overlap" }));
    }
    expect(couplingFromPlacement(woofer, ring, { x: 0.1, y: 0, z: 0, axis: { x: 0, y: 1, z: 0 } }).k).toBeLessThan(1);
  });

  it.each([
    ["no place", undefined],
    ["a missing coordinate", { x: 0, y: 0 }],
    ["no direction", { x: 1, y: 0, z: 0, axis: { x: 0, y: 0, z: 0 } }],
    ["an unknown key", { x: 1, y: 0, z: 0, angle: 3 }],
    ["not a number", { x: NaN, y: 0, z: 0 }],
    ["half an axis", { x: 1, y: 0, z: 0, axis: { x: 1 } }],
  ])("%s is refused", (_what, place) => {
    expect(() => couplingFromPlacement(woofer, woofer, place as never)).toThrow(DividingNetworkError);
  });

  it("takes an axis of any length, and lengths as text", () => {
    const base = couplingFromPlacement(woofer, tweeter, { x: 0.05, y: 0.01, z: 0.02, axis: { x: 1, y: 2, z: 3 } });
    for (const size of [1e-300, 1e150, 7])
      expect(
        couplingFromPlacement(woofer, tweeter, { x: "50 mm", y: "1 cm", z: "20 mm", axis: { x: size, y: 2 * size, z: 3 * size } }).k,
      ).toBeCloseTo(base.k, 12);
  });
});
