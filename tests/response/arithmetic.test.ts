// Tests src/response/: complex-quotient.ts, finite-response.ts, scale-response.ts
import { Complex } from "complex.js";
import { logGrid } from "dividing-network/numeric";
import {
  addResponses,
  delayResponse,
  divideResponses,
  frequencyResponse,
  multiplyResponses,
  reciprocalResponse,
  scaleResponse,
  subtractResponses,
  type FrequencyResponse,
  type Mark,
} from "dividing-network/response";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { copied, errorOf } from "./closed-forms";

const part = fc.double({ min: -1e3, max: 1e3, noNaN: true });
const nonzero = fc.tuple(part, part).filter(([re, im]) => Math.hypot(re, im) > 1e-3);
const pairs = fc.array(fc.tuple(nonzero, nonzero), { minLength: 1, maxLength: 12 });

const response = (values: readonly (readonly [number, number])[], marks: readonly Mark[] = []): FrequencyResponse =>
  frequencyResponse(
    values.map((_, i) => 10 * (i + 1)),
    values.map(([re]) => re),
    values.map(([, im]) => im),
    marks,
  );
const complexOf = ([re, im]: readonly [number, number]): Complex => new Complex(re, im);

describe("arithmetic of responses", () => {
  it.each([
    ["addition", addResponses, (a: Complex, b: Complex) => a.add(b)],
    ["subtraction", subtractResponses, (a: Complex, b: Complex) => a.sub(b)],
    ["multiplication", multiplyResponses, (a: Complex, b: Complex) => a.mul(b)],
    ["division", divideResponses, (a: Complex, b: Complex) => a.div(b)],
  ] as const)("agrees with complex numbers one by one: %s", (_, call, oracle) => {
    fc.assert(
      fc.property(pairs, (values) => {
        const [a, b] = [response(values.map(([first]) => first)), response(values.map(([, second]) => second))];
        const before = [copied(a), copied(b)];
        const result = call(a, b);
        values.forEach(([first, second], i) => {
          const exact = oracle(complexOf(first), complexOf(second));
          const scale =
            complexOf(first).abs() * Math.max(1, complexOf(second).abs(), 1 / complexOf(second).abs()) + complexOf(second).abs();
          expect(Math.hypot(result.re[i]! - exact.re, result.im[i]! - exact.im)).toBeLessThanOrEqual(1e-14 * scale);
        });
        expect([copied(a), copied(b)]).toEqual(before);
        expect(Object.isFrozen(result)).toBe(true);
      }),
    );
  });

  it("adds and multiplies any number of responses, one included", () => {
    const [a, b, c] = [response([[1, 2]]), response([[3, -1]]), response([[0, 1]])];
    expect([addResponses(a, b, c).re[0], addResponses(a, b, c).im[0]]).toEqual([4, 2]);
    expect([multiplyResponses(a, b, c).re[0], multiplyResponses(a, b, c).im[0]]).toEqual([-5, 5]);
    expect(addResponses(a).re).toEqual(a.re);
    expect(errorOf(() => addResponses()).code).toBe("invalid-argument");
  });

  it("takes reciprocals, also of values whose squares overflow", () => {
    const inverse = reciprocalResponse(
      response([
        [3, 4],
        [0, -2],
        [1e200, 1e200],
      ]),
    );
    expect(Array.from(inverse.re, (value) => value + 0)).toEqual([0.12, 0, 5e-201]);
    expect(Array.from(inverse.im)).toEqual([-0.16, 0.5, -5e-201]);
    expect(divideResponses(response([[1e300, 0]]), response([[1e300, 1e300]])).re[0]).toBeCloseTo(0.5, 15);
  });

  it("scales by a real or complex factor", () => {
    const a = response([
      [1, 2],
      [-3, 0],
    ]);
    expect(Array.from(scaleResponse(a, 2).im)).toEqual([4, 0]);
    expect(Array.from(scaleResponse(a, { re: 0, im: 1 }).re)).toEqual([-2, -0]);
    expect(Array.from(scaleResponse(a, new Complex(0, 1)).im)).toEqual([1, -3]);
    for (const factor of [NaN, Infinity, "2", null, undefined, {}, { re: 1 }, { re: 1, im: NaN }]) {
      expect(errorOf(() => scaleResponse(a, factor as number)).code).toBe("invalid-argument");
    }
  });

  it("delays by turning the phase in proportion to the frequency", () => {
    const grid = logGrid(20, 20000, 61);
    const flat = frequencyResponse(
      grid,
      grid.map(() => 2),
      grid.map(() => 0),
    );
    const late = delayResponse(flat, "2.5 ms");
    grid.forEach((f, i) => {
      const exact = new Complex({ arg: -2 * Math.PI * f * 0.0025, abs: 2 });
      expect(Math.hypot(late.re[i]! - exact.re, late.im[i]! - exact.im)).toBeLessThan(1e-14);
    });
    const back = delayResponse(late, -0.0025);
    back.re.forEach((re, i) => expect(Math.hypot(re - 2, back.im[i]!)).toBeLessThan(1e-12));
    expect(errorOf(() => delayResponse(flat, NaN)).code).toBe("invalid-argument");
    expect(errorOf(() => delayResponse(flat, "1 m" as "1 ms")).code).toBe("invalid-quantity");
  });
});

describe("responses that do not fit together", () => {
  const a = response([
    [1, 0],
    [2, 0],
  ]);

  it("are refused when their frequencies differ, naming resample as the way out", () => {
    const shifted = frequencyResponse([10, 20.5], [1, 2], [0, 0]);
    const longer = response([
      [1, 0],
      [2, 0],
      [3, 0],
    ]);
    for (const call of [addResponses, subtractResponses, multiplyResponses, divideResponses]) {
      expect(errorOf(() => call(a, shifted)).code).toBe("grid-mismatch");
      expect(errorOf(() => call(a, shifted)).message).toContain("20 Hz and 20.5 Hz at index 1");
      expect(errorOf(() => call(a, longer)).message).toContain("2 points from 10 Hz to 20 Hz and 3 points from 10 Hz to 30 Hz");
      expect(errorOf(() => call(a, longer)).hint).toContain("resample(b, a.frequencies)");
    }
  });

  it("are accepted when their frequencies are equal in other arrays", () => {
    expect(
      Array.from(
        addResponses(
          a,
          response([
            [5, 0],
            [6, 0],
          ]),
        ).re,
      ),
    ).toEqual([6, 8]);
  });

  it("are refused as divisors where they are zero, naming the frequency", () => {
    const zero = response([
      [1, 0],
      [0, 0],
    ]);
    expect(errorOf(() => divideResponses(a, zero)).code).toBe("division-by-zero");
    expect(errorOf(() => divideResponses(a, zero)).message).toContain("0 at 20 Hz");
    expect(errorOf(() => reciprocalResponse(zero)).message).toContain("0 at 20 Hz");
  });

  it("are refused when the result overflows", () => {
    const huge = response([[1e200, 0]]);
    expect(errorOf(() => multiplyResponses(huge, huge)).code).toBe("overflow");
    expect(errorOf(() => scaleResponse(huge, 1e200)).code).toBe("overflow");
    expect(errorOf(() => reciprocalResponse(response([[5e-324, 0]]))).code).toBe("overflow");
  });

  it("are refused when they are no responses at all", () => {
    for (const nothing of [
      undefined,
      null,
      3,
      [],
      {},
      { frequencies: [1], re: [1], im: [1] },
      { ...a, re: new Float64Array(1) },
      { ...a, im: new Float32Array(2) },
    ]) {
      expect(errorOf(() => addResponses(a, nothing as FrequencyResponse)).code).toBe("invalid-response");
    }
  });
});

describe("marks", () => {
  const gate: Mark = { kind: "coarse", to: 250, note: "below the gate's limit" };
  const splice: Mark = { kind: "splice", from: 300, to: 400, note: "near field below" };

  it("are carried into every result, each different one once", () => {
    const a = response([[1, 1]], [gate, splice]);
    const b = response([[2, 1]], [{ ...splice }, { ...gate, to: 300 }]);
    for (const result of [addResponses(a, b), subtractResponses(a, b), multiplyResponses(a, b), divideResponses(a, b)]) {
      expect(result.marks).toEqual([gate, splice, { ...gate, to: 300 }]);
    }
    for (const result of [
      scaleResponse(a, 2),
      scaleResponse(a, { re: 1, im: 1 }),
      delayResponse(a, 1e-3),
      reciprocalResponse(a),
      addResponses(a),
    ]) {
      expect(result.marks).toEqual([gate, splice]);
    }
    expect(addResponses(response([[1, 1]]), response([[1, 1]])).marks).toBeUndefined();
  });

  it("are checked when a response is made", () => {
    const bad: [unknown, string][] = [
      ["x", "invalid-argument"],
      [[null], "invalid-argument"],
      [[{ kind: "nonsense", note: "" }], "invalid-argument"],
      [[{ kind: "model" }], "invalid-argument"],
      [[{ kind: "model", note: "", from: NaN }], "invalid-argument"],
      [[{ kind: "model", note: "", from: 20, to: 10 }], "invalid-argument"],
      [[{ kind: "model", note: "", colour: 1 }], "unknown-option"],
    ];
    for (const [marks, code] of bad) expect(errorOf(() => response([[1, 1]], marks as Mark[])).code).toBe(code);
  });
});
