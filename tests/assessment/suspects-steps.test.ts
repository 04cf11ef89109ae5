// Tests src/assessment/suspects/: sign-and-delay.ts, other-time-zero.ts, kinds.ts, fit.ts, phaseless.ts
// The steps of which the check of phases is made, each by itself, on numbers whose answer is known: a pure delay of products of one size, sums of squares by hand.
import type { Loudspeaker } from "dividing-network/loudspeaker";
import { frequencyResponse } from "dividing-network/response";
import { describe, expect, it } from "vitest";
import { leastAlong, leastOverTwo, refined } from "../../src/assessment/suspects/fit";
import { counts, kindsOf } from "../../src/assessment/suspects/kinds";
import { otherTimeZero } from "../../src/assessment/suspects/other-time-zero";
import { phaseless } from "../../src/assessment/suspects/phaseless";
import { signAndDelayFit } from "../../src/assessment/suspects/sign-and-delay";

const grid = Float64Array.from({ length: 72 }, (_, k) => 200 * 2 ** (k / 12));
/** p·q* of a q that is p, later by a delay and of a sign: e^(+jωτ) of a size. */
const late = (delay: number, { sign = 1, size = 1, from = 0, to = grid.length, stride = 1 } = {}) => ({
  re: grid.map((f) => sign * size * Math.cos(2 * Math.PI * f * delay)),
  im: grid.map((f) => sign * size * Math.sin(2 * Math.PI * f * delay)),
  from,
  to,
  stride,
});

describe("one sign and one delay a place", () => {
  const { fit, turn } = signAndDelayFit(grid);
  it("are found to the step of 2.5 µs, within 62.5 µs to either side", () => {
    for (const steps of [-25, -21, -13, -10, -7, -4, -1, 0, 1, 3, 6, 8, 12, 15, 18, 22, 25])
      for (const sign of [1, -1] as const) expect(fit([late(-steps * 2.5e-6, { sign })]), `${steps}`).toEqual({ sign, steps: [steps] });
    // Beyond the bound the end is nearest.
    expect(fit([late(-80e-6), late(80e-6)]).steps).toEqual([25, -25]);
  });

  it("share the sign over all places, by what each weighs, and not the delay", () => {
    expect(fit([late(-10e-6), late(20e-6), late(0, { sign: -1, size: 0.5 })])).toMatchObject({ sign: 1 });
    expect(fit([late(-10e-6), late(20e-6), late(-5e-6, { sign: -1, size: 3 })])).toMatchObject({ sign: -1 });
    expect(fit([late(-10e-6), late(20e-6), late(-5e-6)]).steps).toEqual([4, -8, 2]);
    expect(fit([])).toEqual({ sign: 1, steps: [] });
  });

  it("look at the points that count alone", () => {
    const half = late(-10e-6, { from: 10, to: 50, stride: 2 });
    const noise = { ...half, re: half.re.map((x, p) => (p < 10 || p >= 50 || p % 2 === 1 ? -100 : x)) };
    expect(fit([noise])).toEqual({ sign: 1, steps: [4] });
  });

  it("turn by 2.5 µs a step", () => {
    const { cos, sin } = turn(-7);
    grid.forEach((f, p) => {
      expect(cos[p]).toBeCloseTo(Math.cos(2 * Math.PI * f * 17.5e-6), 12);
      expect(sin[p]).toBeCloseTo(-Math.sin(2 * Math.PI * f * 17.5e-6), 12);
    });
  });
});

describe("another time zero", () => {
  it.each([-19.9e-3, -3e-3, -0.2e-3, 0.1e-3, 0.5e-3, 2.915e-3, 12e-3])("%f s later is told to a part of a sample", (delay) => {
    for (const sign of [1, -1]) {
      const found = otherTimeZero(grid, late(delay, { sign, size: 20 }), 2);
      expect(Math.abs(found! - delay)).toBeLessThan(1.3e-6);
    }
  });

  it("is asked for only where nothing within the bound explains the phase, and told only where it does", () => {
    expect(otherTimeZero(grid, late(1e-3), 1)).toBeUndefined();
    expect(otherTimeZero(grid, late(1e-3), 1.01)).toBeDefined();
    // Half of the band upside down: no delay turns that.
    const { re, im, ...rest } = late(1e-3, { size: 20 });
    const torn = { ...rest, re: re.map((x, p) => (p < 36 ? x : -x)), im: im.map((x, p) => (p < 36 ? x : -x)) };
    expect(otherTimeZero(grid, torn, 5)).toBeUndefined();
    // The same in units of what a repetition may differ by: 2·size·(1 − cos) is small where size is.
    expect(otherTimeZero(grid, { ...torn, re: torn.re.map((x) => x / 1000), im: torn.im.map((x) => x / 1000) }, 5)).toBeDefined();
  });

  it("is no further than 20 ms, and outside the bound", () => {
    expect(otherTimeZero(grid, late(27e-3, { size: 20 }), 5)).toBeUndefined();
    expect(Math.abs(otherTimeZero(grid, late(0, { size: 0.01 }), 5)!)).toBeGreaterThan(62.5e-6 - 25e-6);
  });

  it("looks at the points that count alone", () => {
    const some = late(1e-3, { from: 5, to: 61, stride: 2, size: 20 });
    const noise = { ...some, re: some.re.map((x, p) => (p < 5 || p >= 61 || p % 2 === 0 ? -1000 : x)) };
    expect(otherTimeZero(grid, noise, 5)! / 1e-3).toBeCloseTo(1, 2);
  });
});

describe("kinds of residuals", () => {
  const place = (from: number, to: number, timed: boolean) => ({ from, to, ...(timed ? { complex: {} } : {}) });
  const observed = (places: readonly object[], impedance?: object) => ({ places, phaseStride: 2, ...(impedance === undefined ? {} : { impedance }) }) as never; // prettier-ignore
  it("are counted: levels, every second phase of those that have one, two for each impedance", () => {
    expect(counts(observed([place(0, 5, true), place(2, 6, false)], { from: 1, to: 4 }))).toEqual({
      levels: 9,
      phases: 3,
      ohms: 6,
      kinds: 3,
    });
    expect(counts(observed([place(0, 4, false)]))).toEqual({ levels: 4, phases: 0, ohms: 0, kinds: 1 });
    expect(counts(observed([], { from: 0, to: 3 }))).toEqual({ levels: 0, phases: 0, ohms: 6, kinds: 1 });
  });

  it("are taken apart, each a root mean square in its own unit", () => {
    // Two places of 4 and 2 levels, the first with 2 phases, 1 ohm in two parts: as misfitOf scales them, so that the sum of squares is the mean of the kinds.
    const of = observed([place(3, 7, true), place(1, 3, false)], { from: 2, to: 3 });
    const scaled = (values: readonly number[], count: number) => values.map((x) => x / Math.sqrt(count * 3));
    const residuals = Float64Array.from([...scaled([1, -1, 1, -1, 3, -3], 6), ...scaled([2, -2], 2), ...scaled([4, 3], 1)]);
    const { levels, phases, impedance, places } = kindsOf(of, residuals);
    expect([levels, phases, impedance]).toEqual([Math.sqrt(22 / 6), 2, 5].map((x) => expect.closeTo(x, 12)));
    expect(places).toEqual([{ level: expect.closeTo(1, 12), phase: expect.closeTo(2, 12) }, { level: expect.closeTo(3, 12), phase: undefined }]); // prettier-ignore
    expect(residuals.reduce((sum, e) => sum + e * e, 0)).toBeCloseTo((22 / 6 + 4 + 25) / 3, 12);
    expect(kindsOf(observed([], { from: 0, to: 1 }), Float64Array.of(3, 4))).toEqual({
      levels: undefined,
      phases: undefined,
      impedance: 5,
      places: [],
    });
  });
});

describe("the least of a function of one or two positive numbers", () => {
  const bowl = (x: number, at: number) => Math.log(x / at) ** 2;
  it("is found along a logarithmic axis, also at its ends", () => {
    for (const at of [0.03, 0.5, 1, 7.3, 39]) {
      const { at: found, value } = leastAlong((x) => 2 + bowl(x, at), 1 / 40, 40, 28);
      expect(found / at).toBeCloseTo(1, 4);
      expect(value).toBeCloseTo(2, 6);
    }
    expect(leastAlong((x) => x, 2, 50, 10).at).toBeCloseTo(2, 12);
    expect(leastAlong((x) => -x, 2, 50, 10).at).toBeCloseTo(50, 12);
    expect(leastAlong((x) => (Math.abs(x - 10) < 1e-9 ? -1 : 1), 1, 100, 2).value).toBe(-1);
  });

  it("is found over two in turn, and near what was found before", () => {
    for (const [a, b] of [[0.05, 0.4], [1, 1], [60, 1.3]] as const) {
      const both = (x: number, y: number) => 1 + bowl(x, a) + 3 * bowl(y, b) + 0.3 * Math.log(x / a) * Math.log(y / b);
      const { x, y, value } = leastOverTwo(both, [0.02, 200], [0.2, 1.5]);
      expect([x / a, y / b, value]).toEqual([1, 1, 1].map((one) => expect.closeTo(one, 1)));
      const [nx, ny] = refined(both, [1.2 * a, Math.min(1.5, 1.1 * b)], [[0.02, 200], [0.2, 1.5]]);
      expect([nx / a, ny / b]).toEqual([1, 1].map((one) => expect.closeTo(one, 1)));
    }
    expect(refined((x, y) => -x - y, [190, 1.4], [[0.02, 200], [0.2, 1.5]])).toEqual([200, 1.5].map((end) => expect.closeTo(end, 6)));
  }); // prettier-ignore
});

describe("why a phase isn't compared", () => {
  const marks = (from?: number, to?: number) => [{ kind: "model", note: "x", ...(from === undefined ? {} : { from }), ...(to === undefined ? {} : { to }) }] as const; // prettier-ignore
  const response = (more: readonly object[] = []) => frequencyResponse([100, 1000], [1, 1], [0.1, 0.2], more as never);
  const at = { distance: 1, azimuth: 0, elevation: 0 };
  const box = (timed: boolean, more: readonly object[] = []) =>
    ({ drivers: [{ name: "cone", pressures: [{ ...at, azimuth: 30, timed: false, response: response(marks()) }, { ...at, timed, response: response(more) }] }] }) as unknown as Loudspeaker; // prettier-ignore
  const why = (of: Loudspeaker, more: object = {}) =>
    phaseless(of, { ...at, voltage: 1, response: response(), ...more }, { from: 200, to: 800 });
  it("is said of the whole first, then of a driver, at that place alone", () => {
    expect(why(box(true))).toBeUndefined();
    expect(why(box(true), { timed: true })).toBeUndefined();
    expect(why(box(false), { timed: false })).toBe("the whole was measured on a time zero of its own");
    expect(why(box(false))).toBe("cone was measured on a time zero of its own");
    expect(why(box(true, marks()))).toBe("the phase of cone is a model");
    expect(why(box(true, marks()), { response: response(marks()) })).toBe("the phase of the whole is a model");
  });

  it("is no matter of other marks, or of marks beyond the band", () => {
    expect(why(box(true), { response: response([{ kind: "coarse", note: "x" }]) })).toBeUndefined();
    for (const [from, to, counts_] of [[undefined, 200, false], [undefined, 201, true], [800, undefined, false], [799, undefined, true], [300, 400, true]] as const)
      expect(why(box(true), { response: response(marks(from, to)) }) !== undefined, `${from} ${to}`).toBe(counts_);
  }); // prettier-ignore

  it("is that none was measured, where all of it is real and nobody says otherwise", () => {
    const real = frequencyResponse([100, 1000], [1, 1], [0, 0]);
    expect(why(box(true), { response: real })).toBe("the whole was measured without phase");
    expect(why(box(true), { response: real, timed: true })).toBeUndefined();
    expect(why(box(true), { response: frequencyResponse([100, 1000], [1, 1], [0, 0.1]) })).toBeUndefined();
  });
});
