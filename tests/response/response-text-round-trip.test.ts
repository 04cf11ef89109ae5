// Tests src/response/: write-response-text.ts
import { logGrid } from "dividing-network/numeric";
import {
  frequencyResponse,
  levelDb,
  phaseDegrees,
  readResponseText,
  readTouchstone,
  writeResponseText,
  writeTouchstone,
  type FrequencyResponse,
  type TextColumns,
  type WriteTextOptions,
} from "dividing-network/response";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { copied, errorOf, sample, secondOrder } from "./closed-forms";
import { cases } from "../support/cases";

const anyNumber = fc.oneof(fc.double({ noNaN: true, noDefaultInfinity: true }), fc.integer({ min: -2000, max: 2000 }), fc.constant(-0));
const positive = fc.oneof(
  fc.double({ min: 1e-300, max: 1e300, noNaN: true }),
  fc.integer({ min: 1, max: 30000 }),
  fc.double({ min: 1, max: 30000, noNaN: true }),
);

/** Two points or more, with any values that a response may hold. */
const anyResponse = (value: fc.Arbitrary<number>): fc.Arbitrary<FrequencyResponse> =>
  fc
    .uniqueArray(fc.tuple(positive, value, value), { minLength: 2, maxLength: 12, selector: ([f]) => f })
    .map((points) => points.sort((a, b) => a[0] - b[0]))
    .map((points) =>
      frequencyResponse(
        points.map(([f]) => f),
        points.map(([, re]) => re),
        points.map(([, , im]) => im),
      ),
    );

const bits = ({ frequencies, re, im }: FrequencyResponse): BigUint64Array[] =>
  [frequencies, re, im].map((list) => new BigUint64Array(list.slice().buffer));

const styles = (["\t", " ", ",", ";"] as const).flatMap((separator) =>
  ([".", ","] as const).filter((decimal) => decimal !== separator).map((decimal) => ({ separator, decimal })),
);

describe("text that is written and read", () => {
  it.each(styles)("comes back bit for bit with separator $separator and decimal $decimal", (style) => {
    fc.assert(
      fc.property(anyResponse(anyNumber), fc.string(), (response, comment) => {
        const before = copied(response);
        const text = writeResponseText(response, { columns: "re-im", comment: comment.replaceAll("\0", ""), ...style });
        expect(bits(readResponseText(text, { columns: "re-im" }).response)).toEqual(bits(response));
        expect(copied(response)).toEqual(before);
      }),
    );
  });

  const moderate = fc.double({ min: 1e-6, max: 1e6, noNaN: true });
  it.each(styles.flatMap((style) => (["db-degrees", "ohm-degrees", "db"] as const).map((columns) => ({ columns, ...style }))))(
    "comes back with its levels and phases: $columns with separator $separator and decimal $decimal",
    ({ columns, ...style }) => {
      fc.assert(
        fc.property(anyResponse(moderate), (response) => {
          const reference = columns === "ohm-degrees" ? {} : { reference: 20e-6 };
          const back = readResponseText(writeResponseText(response, { columns, ...style, ...reference }), {
            columns,
            ...reference,
          }).response;
          levelDb(back).forEach((level, i) => expect(level).toBeCloseTo(levelDb(response)[i]!, 11));
          phaseDegrees(back).forEach((phase, i) => expect(phase).toBeCloseTo(columns === "db" ? 0 : phaseDegrees(response)[i]!, 11));
          expect(back.frequencies).toEqual(response.frequencies);
        }),
        { numRuns: cases(30) },
      );
    },
  );

  it("has the comment, the marks and a heading above the numbers", () => {
    const response = frequencyResponse(
      [100, 2000.5],
      [1, -0.25],
      [0, 1e-7],
      [
        { kind: "coarse", to: 250, note: "below the gate's limit" },
        { kind: "model", note: "phase" },
      ],
    );
    expect(writeResponseText(response, { columns: "re-im", separator: ";", decimal: ",", comment: "dome\r\n1 m" })).toBe(
      [
        "# dome",
        "# 1 m",
        "# coarse, the lowest frequency to 250 Hz: below the gate's limit",
        "# model, the lowest frequency to the highest: phase",
        "# frequency (Hz);real part;imaginary part",
        "100;1;0",
        "2000,5;-0,25;1e-7",
        "",
      ].join("\n"),
    );
    expect(writeResponseText(response, { columns: "db" }).split("\n")[2]).toBe("# frequency (Hz)\tlevel (dB)");
  });

  it("is refused where it could not be read again", () => {
    const response = frequencyResponse([0, 100], [1, 0], [0, 0]);
    const good = frequencyResponse([1, 100], [1, 1], [0, 0]);
    expect(errorOf(() => writeResponseText(response, { columns: "re-im" })).code).toBe("frequency-not-positive");
    expect(errorOf(() => writeResponseText(frequencyResponse([1, 100], [1, 0], [0, 0]), { columns: "db" })).code).toBe("zero-level");
    const bad: [Partial<Record<keyof WriteTextOptions, unknown>> | undefined, string][] = [
      [{ columns: "re-im", separator: ",", decimal: "," }, "invalid-argument"],
      [{ columns: "re-im", separator: "|" }, "invalid-argument"],
      [{ columns: "re-im", decimal: "'" }, "invalid-argument"],
      [{ columns: "re-im", comment: 3 }, "invalid-argument"],
      [{ columns: "re-im", comment: "x".repeat(1001) }, "invalid-argument"],
      [{ columns: "re-im", reference: 1 }, "invalid-argument"],
      [{ columns: "db", reference: 0 }, "invalid-argument"],
      [{ columns: "ohm" }, "invalid-argument"],
      [{}, "invalid-argument"],
      [undefined, "invalid-argument"],
      [{ columns: "re-im", digits: 3 } as object, "unknown-option"],
    ];
    for (const [options, code] of bad) expect(errorOf(() => writeResponseText(good, options as WriteTextOptions)).code).toBe(code);
    expect(errorOf(() => writeResponseText({} as FrequencyResponse, { columns: "re-im" })).code).toBe("invalid-response");
  });
});

describe("no input makes a reader throw anything but the library's error, or hang", () => {
  const grid = logGrid(20, 20000, 8);
  const valid = [
    ...styles.map((style) => writeResponseText(sample(secondOrder(1000, 1), grid), { columns: "re-im", ...style })),
    writeTouchstone(sample(secondOrder(1000, 1), grid), { version: "2.0", parameter: "S", format: "DB", unit: "kHz" }),
    writeTouchstone(sample(secondOrder(1000, 1), grid)),
  ];
  const fragment = fc.oneof(
    fc.constantFrom(
      ",",
      ".",
      ";",
      "\t",
      " ",
      "\n",
      "\r",
      '"',
      "!",
      "#",
      "[",
      "]",
      "-",
      "+",
      "e",
      "E",
      "0",
      "1",
      "9",
      "nan",
      "inf",
      "\ufeff",
      "\0",
      "R",
      "[End]",
      "[Version] 2.0",
      "# GHz Y MA R 0",
      "1e999",
      "//",
      "%",
    ),
    fc.string({ unit: "binary", maxLength: 6 }),
  );
  const mutated = fc
    .tuple(fc.constantFrom(...valid), fc.array(fc.tuple(fc.nat(2000), fc.nat(4), fragment), { maxLength: 8 }))
    .map(([text, edits]) =>
      edits.reduce(
        (now, [at, length, put]) => now.slice(0, at % (now.length + 1)) + put + now.slice((at % (now.length + 1)) + length),
        text,
      ),
    );
  const invented = fc.oneof(
    fc.string({ unit: "binary", maxLength: 200 }),
    fc.array(fragment, { maxLength: 60 }).map((parts) => parts.join("")),
    mutated,
  );

  const allFinite = (response: FrequencyResponse): boolean =>
    [response.frequencies, response.re, response.im].every((list) => list.every((value) => Number.isFinite(value)));
  const ascends = ({ frequencies }: FrequencyResponse): boolean =>
    frequencies.every((f, i) => f >= 0 && (i === 0 || f > frequencies[i - 1]!));

  it.each(["re-im", "db", "db-degrees", "ohm-degrees"] as const satisfies TextColumns[])("as columns of %s", (columns) => {
    fc.assert(
      fc.property(invented, (text) => {
        let response: FrequencyResponse | undefined;
        try {
          response = readResponseText(text, { columns }).response;
        } catch (error) {
          expect(
            errorOf(() => {
              throw error;
            }).code,
          ).not.toBe("");
        }
        if (response !== undefined) expect(allFinite(response) && ascends(response)).toBe(true);
      }),
      { numRuns: cases(2000) },
    );
  });

  it("as a one-port file", () => {
    fc.assert(
      fc.property(invented, (text) => {
        let response: FrequencyResponse | undefined;
        try {
          response = readTouchstone(text, { file: "dome.s1p" }).response;
        } catch (error) {
          expect(
            errorOf(() => {
              throw error;
            }).code,
          ).not.toBe("");
        }
        if (response !== undefined) expect(allFinite(response) && ascends(response)).toBe(true);
      }),
      { numRuns: cases(4000) },
    );
  });

  it("as values of any type", () => {
    fc.assert(
      fc.property(fc.anything(), fc.anything(), (text, options) => {
        for (const call of [
          () => readResponseText(text as string, options as never),
          () => readTouchstone(text as string, options as never),
        ]) {
          try {
            call();
          } catch (error) {
            expect(
              errorOf(() => {
                throw error;
              }).code,
            ).not.toBe("");
          }
        }
      }),
      { numRuns: cases(1000) },
    );
  });
});
