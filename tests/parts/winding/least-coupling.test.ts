// Tests src/parts/winding/: board-search.ts, fineness.ts, placed-mutual.ts, section-potential.ts
// Coils on a board: what the search finds is compared with what the trade would do without computing, and is checked against the board's rules.
import { couplingFromPlacement, leastCoupling, type BoardPlace } from "dividing-network/parts";
import { describe, expect, it } from "vitest";

const woofer = { turns: 160, meanRadius: 0.022, length: 0.02, depth: 0.014 };
const tweeter = { turns: 90, meanRadius: 0.013, length: 0.015, depth: 0.008 };
const board = { width: 0.18, depth: 0.12 };

/** Half of the outline of a coil along x and y. */
const half = (coil: typeof woofer, { axis }: BoardPlace) =>
  ["x", "y"].map((each) => (axis === each ? coil.length / 2 : coil.meanRadius + coil.depth / 2));

describe("coils on a board", () => {
  it("two find places where they don't couple", () => {
    expect(leastCoupling({ coils: [woofer, tweeter], board }).worst).toBeLessThan(1e-6);
  });

  it("three couple a hundred times less than flat in a row, and stay on the board, apart from one another", () => {
    const coils = [woofer, tweeter, tweeter];
    const found = leastCoupling({ coils, board, gap: "5 mm" });
    expect(found.worst).toBeLessThan(Math.abs(couplingFromPlacement(woofer, tweeter, { x: 0.055, y: 0, z: 0 }).k) / 100);
    expect(found.couplings.map(({ first, second }) => [first, second])).toEqual([
      [0, 1],
      [0, 2],
      [1, 2],
    ]);
    expect(found.worst).toBe(Math.max(...found.couplings.map(({ k }) => Math.abs(k))));
    found.places.forEach((place, i) => {
      const [hx, hy] = half(coils[i]!, place) as [number, number];
      expect(Math.abs(place.x) + hx).toBeLessThanOrEqual(board.width / 2 + 1e-9);
      expect(Math.abs(place.y) + hy).toBeLessThanOrEqual(board.depth / 2 + 1e-9);
      expect(place.z).toBeCloseTo(place.axis === "z" ? coils[i]!.length / 2 : coils[i]!.meanRadius + coils[i]!.depth / 2, 12);
      found.places.slice(0, i).forEach((other, k) => {
        const [ox, oy] = half(coils[k]!, other) as [number, number];
        expect(Math.max(Math.abs(place.x - other.x) - hx - ox, Math.abs(place.y - other.y) - hy - oy)).toBeGreaterThanOrEqual(0.005 - 1e-9);
      });
    });
  });

  it("gives the couplings of the places that it gives: turned back by hand for coils along y and z", () => {
    const { places, couplings } = leastCoupling({ coils: [woofer, tweeter, tweeter], board });
    const unit = (axis: string) => ({ x: axis === "x" ? 1 : 0, y: axis === "y" ? 1 : 0, z: axis === "z" ? 1 : 0 });
    const coils = [woofer, tweeter, tweeter];
    for (const { first, second, k } of couplings) {
      const [a, b] = [places[first]!, places[second]!];
      const d = { x: b.x - a.x, y: b.y - a.y, z: b.z - a.z };
      const n = unit(b.axis);
      // Right-handed frames with the first coil's axis as z.
      const seen =
        a.axis === "z"
          ? [d, n]
          : a.axis === "x"
            ? [
                { x: -d.z, y: d.y, z: d.x },
                { x: -n.z, y: n.y, z: n.x },
              ]
            : [
                { x: d.x, y: -d.z, z: d.y },
                { x: n.x, y: -n.z, z: n.y },
              ];
      expect(couplingFromPlacement(coils[first]!, coils[second]!, { ...seen[0]!, axis: seen[1]! }).k).toBeCloseTo(k, 9);
    }
  });

  it("is as far apart as the board allows when all must lie flat, and the same at every call", () => {
    const options = { coils: [woofer, tweeter], board, axes: ["z"] } as const;
    const found = leastCoupling(options);
    expect(leastCoupling(options)).toEqual(found);
    const [a, b] = found.places as [BoardPlace, BoardPlace];
    const [rx, ry] = [board.width - 0.029 - 0.017, board.depth - 0.029 - 0.017];
    expect(Math.hypot(a.x - b.x, a.y - b.y)).toBeCloseTo(Math.hypot(rx, ry), 9);
    expect(found.worst).toBeGreaterThan(5e-4);
  });

  it.each([
    ["one coil", { coils: [woofer], board }, /"coils" must be/],
    ["no board", { coils: [woofer, tweeter] }, /board/],
    ["a board that is too small", { coils: [woofer, tweeter], board: { width: 0.03, depth: 0.03 } }, /must have room/],
    ["an axis that isn't one", { coils: [woofer, tweeter], board, axes: ["w"] }, /"axes"/],
    ["a coil without turns", { coils: [woofer, { ...tweeter, turns: 0 }], board }, /coils\[1\]\.turns/],
  ])("%s is refused", (_what, options, message) => {
    expect(() => leastCoupling(options as never)).toThrow(message);
  });
});
