// Tests src/parts/winding/: gap.ts, coupling-from-placement.ts, mutual-mean.ts, winding.ts, winding-inductance.ts
// Coils that would take each other's place, however thin the wall that a turn passes through; and windings at the limits of what they may be.
import { DividingNetworkError } from "dividing-network/errors";
import { couplingFromPlacement, leastCoupling, windingInductance, type CoilPlace } from "dividing-network/parts";
import { describe, expect, it } from "vitest";
import { acrossAxis, gapBetween } from "../../../src/parts/winding/gap";

const codeOf = (work: () => unknown): string => {
  try {
    work();
    return "taken";
  } catch (error) {
    if (error instanceof DividingNetworkError) return error.code;
    throw error;
  }
};
const messageOf = (work: () => unknown): string => {
  try {
    work();
    return "taken";
  } catch (error) {
    if (error instanceof DividingNetworkError) return error.message;
    throw error;
  }
};

describe("a ring and a tube", () => {
  // 1 mm of wall, 20 mm long, on 10 mm; a ring of wire of 15 mm radius.
  const tube = { turns: 20, meanRadius: 0.01, length: 0.02, depth: 0.001 };
  const ring = { turns: 1, meanRadius: 0.015, length: 1e-4, depth: 1e-4 };

  it("can't pass through one another, wherever the wall is met", () => {
    for (let k = 0; k < 24; k++) {
      const x = 0.008 + k * 0.0006;
      const place = (axis: CoilPlace["axis"]) => ({ x, y: 0, z: 0.003, axis });
      expect(
        codeOf(() => couplingFromPlacement(tube, ring, place({ x: 0, y: 0, z: 1 }))),
        `flat at ${x}`,
      ).toBe("coils-overlap");
      expect(
        codeOf(() => couplingFromPlacement(ring, tube, { x, y: 0, z: 0.003 })),
        `seen from the ring at ${x}`,
      ).toBe("coils-overlap");
    }
    for (const turn of [0.1, 0.4, 0.9])
      expect(
        codeOf(() => couplingFromPlacement(tube, ring, { x: 0.012, y: 0, z: 0, axis: { x: Math.sin(turn), y: 0, z: Math.cos(turn) } })),
      ).toBe("coils-overlap");
  });

  it("may lie round one another, beside one another and above one another, a tenth of a millimetre apart", () => {
    for (const place of [
      { x: 0, y: 0, z: 0 },
      { x: 0.0043, y: 0, z: 0 },
      { x: 0.0257, y: 0, z: 0 },
      { x: 0.01, y: 0, z: 0.0102 },
      { x: 0.01, y: 0, z: -0.0102 },
    ]) {
      const { k } = couplingFromPlacement(tube, ring, place);
      expect(Math.abs(k) > 0 && Math.abs(k) < 1).toBe(true);
    }
    for (const place of [
      { x: 0.0046, y: 0, z: 0 },
      { x: 0.0254, y: 0, z: 0 },
      { x: 0.01, y: 0, z: 0.0099 },
    ])
      expect(codeOf(() => couplingFromPlacement(tube, ring, place))).toBe("coils-overlap");
  });
});

describe("the gap between two windings", () => {
  const a = { meanRadius: 0.02, length: 0.01, depth: 0.004 };
  const b = { meanRadius: 0.01, length: 0.006, depth: 0.002 };
  const straight = (x: number, z: number) => gapBetween(a, b, { x, z, axis: [0, 0, 1] });

  it("is the distance of their surfaces where it is seen: above, beside, inside", () => {
    expect(straight(0, 0.02)).toBeCloseTo(Math.hypot(0.02 - 0.008, 0.018 - 0.011), 9);
    expect(straight(0.05, 0)).toBeCloseTo(0.05 - 0.022 - 0.011, 4);
    expect(straight(0, 0)).toBeCloseTo(0.018 - 0.011, 9);
    expect(straight(0.01, 0.02)).toBeCloseTo(0.012, 4);
    expect(straight(0, -0.02)).toBeCloseTo(straight(0, 0.02), 12);
    expect(straight(0.008, 0)).toBe(-1);
    expect(straight(0.02, 0.007)).toBe(-1);
    // Standing on edge beside it: the inner edge of its turns, 9 mm up, above the 5 mm of the other.
    expect(gapBetween(a, b, { x: 0.04, z: 0, axis: [1, 0, 0] })).toBeCloseTo(Math.hypot(0.04 - 0.003 - 0.022, 0.009 - 0.005), 4);
    expect(gapBetween(a, b, { x: 0.04, z: 0, axis: [0, 1, 0] })).toBeCloseTo(0.04 - 0.011 - 0.022, 3);
  });

  it("goes with directions across an axis that are of length 1, at right angles, right-handed", () => {
    for (const raw of [
      [0, 0, 1],
      [1, 0, 0],
      [0, 1, 0],
      [0, -1, 0],
      [1, 2, 3],
      [-2, 0.5, 1],
      [0.3, 5, -0.2],
    ] as const) {
      const size = Math.hypot(...raw);
      const [n1, n2, n3] = raw.map((each) => each / size) as [number, number, number];
      const [[u1, u2, u3], [v1, v2, v3]] = acrossAxis([n1, n2, n3]) as unknown as readonly [
        readonly [number, number, number],
        readonly [number, number, number],
      ];
      for (const [value, wanted] of [
        [Math.hypot(u1, u2, u3), 1],
        [Math.hypot(v1, v2, v3), 1],
        [u1 * v1 + u2 * v2 + u3 * v3, 0],
        [u1 * n1 + u2 * n2 + u3 * n3, 0],
        [u2 * v3 - u3 * v2, n1],
        [u3 * v1 - u1 * v3, n2],
        [u1 * v2 - u2 * v1, n3],
      ] as const)
        expect(value).toBeCloseTo(wanted, 12);
    }
  });
});

describe("a winding at its limits", () => {
  const good = { turns: 100, meanRadius: 0.02, length: 0.01, depth: 0.01 };

  it("is wound down to its axis at most, and is no filament", () => {
    expect(codeOf(() => windingInductance({ ...good, depth: 0.04 }))).toBe("taken");
    expect(codeOf(() => windingInductance({ ...good, depth: 0.04 * (1 + 1e-13) }))).toBe("taken");
    expect(codeOf(() => windingInductance({ ...good, depth: 0.04 * (1 + 1e-11) }))).toBe("invalid-argument");
    expect(codeOf(() => windingInductance({ ...good, length: 1e-9 * 0.02, depth: 0 }))).toBe("taken");
    expect(codeOf(() => windingInductance({ ...good, length: 0, depth: 1.1e-9 * 0.02 }))).toBe("taken");
    expect(codeOf(() => windingInductance({ ...good, length: 0.9e-9 * 0.02, depth: 0.9e-9 * 0.02 }))).toBe("invalid-argument");
  });

  it("is named where it stands among others", () => {
    const of = (more: object) => [
      messageOf(() => couplingFromPlacement({ ...good, ...more }, good, { x: 1, y: 0, z: 0 })),
      messageOf(() => couplingFromPlacement(good, { ...good, ...more }, { x: 1, y: 0, z: 0 })),
      messageOf(() => leastCoupling({ coils: [good, { ...good, ...more }], board: { width: 1, depth: 1 } })),
      messageOf(() => windingInductance({ ...good, ...more })),
    ];
    for (const [more, name] of [
      [{ turns: 0 }, "turns"],
      [{ meanRadius: 0 }, "meanRadius"],
      [{ length: -1 }, "length"],
      [{ depth: -1 }, "depth"],
      [{ depth: 1 }, "depth"],
    ] as const) {
      const [first, second, third, alone] = of(more);
      expect(first).toContain(`"coilA.${name}"`);
      expect(second).toContain(`"coilB.${name}"`);
      expect(third).toContain(`"coils[1].${name}"`);
      expect(alone).toContain(`"${name}"`);
    }
  });

  it("has a place of three lengths and a direction, each by its name", () => {
    const at = (place: unknown) => messageOf(() => couplingFromPlacement(good, good, place as never));
    for (const key of ["x", "y", "z"]) {
      expect(at({ x: 1, y: 1, z: 1, [key]: "1 Ω" })).toContain(`"place.${key}"`);
      expect(at({ x: 1, y: 1, z: 1, axis: { x: 1, y: 1, z: 1, [key]: NaN } })).toContain(`"place.axis.${key}"`);
    }
    expect(at({ x: 1, y: 1, z: 1, axis: { x: 0, y: 0, z: 0 } })).toContain("must have a direction");
    expect(at({ x: 1e39, y: 0, z: 0 })).toContain('"place" and the coils must be within');
    expect(at({ x: 1, y: 1, z: 1, angle: 3 })).toContain("angle");
    expect(at({ x: 1, y: 1, z: 1, axis: { x: 1, y: 0, z: 0, w: 1 } })).toContain('"w"');
  });

  it("on a board is one of two to eight coils, on axes that there are", () => {
    const coil = { turns: 10, meanRadius: 0.01, length: 0.005, depth: 0.004 };
    const on = (more: object) =>
      messageOf(() => leastCoupling({ coils: [coil, coil], board: { width: 0.1, depth: 0.1 }, axes: ["z"], ...more } as never));
    expect(on({})).toBe("taken");
    for (const count of [0, 1, 9])
      expect(on({ coils: new Array(count).fill(coil) })).toContain('"coils" must be an array of two to eight coils');
    for (const coils of [undefined, "two", { length: 2 }]) expect(on({ coils })).toContain('"coils"');
    for (const axes of [[], "z", ["z", "up"], { length: 1 }]) expect(on({ axes })).toContain('"axes"');
    for (const gap of [-1e-9, NaN, "1 Ω"]) expect(on({ gap })).toContain('"gap"');
    for (const key of ["width", "depth"])
      for (const value of [0, 101, NaN]) expect(on({ board: { width: 0.1, depth: 0.1, [key]: value } })).toContain(`"board.${key}"`);
    expect(on({ height: 1 })).toContain("height");
    expect(on({ board: { width: 0.1, depth: 0.1, height: 1 } })).toContain("height");
    // 12 mm to the outside: side by side two need 48 mm and the gap, 3 mm where nothing is said.
    expect(on({ board: { width: 0.0511, depth: 0.0241 } })).toBe("taken");
    expect(on({ board: { width: 0.0509, depth: 0.0241 } })).toContain("coil 1 found none");
    expect(on({ board: { width: 0.0509, depth: 0.0241 }, gap: "2 mm" })).toBe("taken");
    expect(on({ board: { width: 0.1, depth: 0.0239 } })).toContain("found none");
    expect(on({ board: { width: 0.0481, depth: 0.0241 }, gap: 0 })).toBe("taken");
  });
});
