import { logGrid } from "dividing-network/numeric";
import { responseOf, valueAt, type TransferFunction } from "dividing-network/response";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { copied, distance, errorOf, firstOrder, secondOrder, secondOrderFilter } from "./closed-forms";

const grid = logGrid(1, 100000, 101);

describe("a transfer function on a grid", () => {
  it("agrees with the closed form, next to its poles too", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1, max: 5, noNaN: true }),
        fc.double({ min: -1, max: 2.5, noNaN: true }),
        fc.boolean(),
        (decade, q, highPass) => {
          const filter = secondOrderFilter(10 ** decade, 10 ** q, highPass);
          // The poles themselves are rounded, which a resonance magnifies by Q.
          expect(distance(responseOf(filter, grid), secondOrder(10 ** decade, 10 ** q, highPass))).toBeLessThan(1e-14 * (4 + 10 * 10 ** q));
        },
      ),
    );
  });

  it("does not overflow on the way for high orders in rad/s", () => {
    const pole = { re: -2 * Math.PI * 20000, im: 0 };
    const filter: TransferFunction = {
      zeros: Array.from({ length: 60 }, () => ({ re: 0, im: 0 })),
      poles: Array.from({ length: 60 }, () => pole),
      gain: 1,
    };
    const response = responseOf(filter, [20000]);
    expect(Math.hypot(response.re[0]!, response.im[0]!) * 2 ** 30).toBeCloseTo(1, 12);
  });

  it("takes 0 Hz and evaluates a constant", () => {
    expect(Array.from(responseOf({ zeros: [], poles: [], gain: -2.5 }, [0, 10]).re)).toEqual([-2.5, -2.5]);
    expect(responseOf({ zeros: [], poles: [{ re: -1000, im: 0 }], gain: 1000 }, [0]).re[0]).toBe(1);
  });

  it("has one value whether asked on a grid or alone", () => {
    const filter = secondOrderFilter(1000, 1.3);
    const before = structuredClone(filter);
    const { re, im } = responseOf(filter, [123.4]);
    expect([valueAt(filter, "123.4 Hz").re, valueAt(filter, 123.4).im]).toEqual([re[0], im[0]]);
    expect(filter).toEqual(before);
    expect(valueAt({ zeros: [], poles: [{ re: -2 * Math.PI * 1000, im: 0 }], gain: 2 * Math.PI * 1000 }, 3000).im).toBeCloseTo(
      firstOrder(1000)(3000).im,
      15,
    );
  });

  it("copies the frequencies it is given and writes to nothing", () => {
    const response = responseOf(secondOrderFilter(1000, 1), grid);
    expect(response.frequencies).not.toBe(grid);
    expect(copied(response)).toEqual(copied(responseOf(secondOrderFilter(1000, 1), Array.from(grid))));
  });
});

describe("what is no transfer function", () => {
  it("is refused, naming the member", () => {
    const good = { zeros: [], poles: [{ re: -1, im: 0 }], gain: 1 };
    const bad: [unknown, string][] = [
      [{ ...good, poles: undefined }, "for poles"],
      [{ ...good, poles: [{ re: -1 }] }, "for poles"],
      [{ ...good, poles: [{ re: NaN, im: 0 }] }, "for poles"],
      [{ ...good, zeros: [3] }, "for zeros"],
      [{ ...good, gain: Infinity }, "for gain"],
      [{ ...good, gain: "1" }, "for gain"],
      [{ poles: [], gain: 1 }, "for zeros"],
    ];
    for (const [filter, words] of bad) {
      for (const call of [() => responseOf(filter as TransferFunction, [10]), () => valueAt(filter as TransferFunction, 10)]) {
        expect(errorOf(call).code).toBe("invalid-transfer-function");
        expect(errorOf(call).message).toContain(words);
      }
    }
    for (const filter of [undefined, null, 3, []])
      expect(errorOf(() => responseOf(filter as unknown as TransferFunction, [10])).code).toBe("invalid-transfer-function");
  });

  it("is refused on a pole, and where the value overflows", () => {
    const integrator = { zeros: [], poles: [{ re: 0, im: 0 }], gain: 1 };
    expect(errorOf(() => responseOf(integrator, [0, 10])).code).toBe("pole-on-axis");
    expect(errorOf(() => valueAt(integrator, 0)).code).toBe("pole-on-axis");
    const steep = { zeros: Array.from({ length: 100 }, () => ({ re: 0, im: 0 })), poles: [], gain: 1 };
    expect(errorOf(() => responseOf(steep, [10000])).code).toBe("overflow");
    expect(errorOf(() => valueAt(steep, 10000)).code).toBe("overflow");
  });

  it("is refused together with a grid that is none", () => {
    for (const list of [[], [2, 1], [-1], [NaN], undefined])
      expect(errorOf(() => responseOf(secondOrderFilter(1000, 1), list as number[])).code).toBe("invalid-argument");
  });
});
