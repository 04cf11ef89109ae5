// Tests src/response/: read-touchstone.ts, text-file.ts, text-number.ts, touchstone-lines.ts, touchstone-options.ts, write-touchstone.ts
import { Complex } from "complex.js";
import {
  frequencyResponse,
  readTouchstone,
  writeTouchstone,
  type FrequencyResponse,
  type TouchstoneParameter,
  type WriteTouchstoneOptions,
} from "dividing-network/response";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { copied, errorOf } from "./closed-forms";
import { cases } from "../support/cases";

const read = (text: string) => readTouchstone(text, { file: "dome.s1p" });
const only = (text: string): [f: number, re: number, im: number] => {
  const { frequencies, re, im } = read(text).response;
  expect(frequencies).toHaveLength(1);
  return [frequencies[0]!, re[0]!, im[0]!];
};
const near = (z: Complex): unknown[] => [expect.closeTo(z.re, 10), expect.closeTo(z.im, 10)];

/** Definitions of the parameters, by complex.js. */
const fromS = (s: Complex, r: number): Complex => s.add(1).div(new Complex(1, 0).sub(s)).mul(r);
const polar = (abs: number, degrees: number): Complex => new Complex({ abs, arg: (degrees * Math.PI) / 180 });

describe("a one-port file of version 1.1 is read as an impedance", () => {
  it("with the defaults of an empty option line: GHz, S, MA, 50 Ω", () => {
    const [f, ...z] = only("#\n2 0.9 -12\n");
    expect(f).toBe(2e9);
    expect(z).toEqual(near(fromS(polar(0.9, -12), 50)));
    expect(read("#\n2 0.9 -12\n")).toMatchObject({ parameter: "S", resistance: 50, version: "1.1", notes: [] });
  });

  it("with the same defaults, and a note, when there is no option line", () => {
    expect(only("2 0.9 -12\n")).toEqual(only("#\n2 0.9 -12\n"));
    expect(read("2 0.9 -12\n").notes).toEqual(["there is no option line: # GHz S MA R 50 was assumed"]);
  });

  it("with an option line in any order and case, comments anywhere, any line ends", () => {
    const plain = only("# kHz Z RI R 8\n1 0.75 0.125\n");
    expect(plain).toEqual([1000, 6, 1]);
    for (const text of ["! dome\n\n#  r 8  ri z KHZ ! options\r\n 1\t0.75   0.125 ! first\r\n", "\ufeff#RI Z R 8 khz\r1 .75 1.25e-1\r"])
      expect(only(text)).toEqual(plain);
  });

  it("in each unit of frequency, to the very hertz", () => {
    for (const [unit, word, f] of [
      ["Hz", "20000000.1", 20000000.1],
      ["kHz", "20000.0001", 20000000.1],
      ["MHz", "20.0000001", 20000000.1],
      ["GHz", "0.0200000001", 20000000.1],
      ["GHz", "1e-9", 1],
    ] as const) {
      expect(only(`# ${unit} Z RI R 1\n${word} 1 0\n`)[0]).toBe(f);
    }
  });

  it("as Z and Y, which are normalised to the reference", () => {
    expect(only("# Hz Z MA R 50\n10 0.1 60\n").slice(1)).toEqual(near(polar(5, 60)));
    expect(only("# Hz Y RI R 50\n10 0 2\n").slice(1)).toEqual(near(new Complex(0, -25)));
    expect(only("# Hz Y DB R 50\n10 20 30\n").slice(1)).toEqual(near(polar(5, -30)));
  });

  it("as S in each format", () => {
    const s = polar(0.5, 40);
    for (const text of [`MA R 75\n10 0.5 40`, `DB R 75\n10 ${20 * Math.log10(0.5)} 40`, `RI R 75\n10 ${s.re} ${s.im}`])
      expect(only(`# Hz S ${text}\n`).slice(1)).toEqual(near(fromS(s, 75)));
    expect(
      only("# Hz S RI R 50\n10 -1 0\n")
        .slice(1)
        .map((value) => value + 0),
    ).toEqual([0, 0]);
  });

  it("with points at 0 Hz, and with one point", () => {
    expect(Array.from(read("# Hz Z RI R 1\n0 6 0\n10 7 1\n").response.frequencies)).toEqual([0, 10]);
  });

  it("with a note on a second option line, which does not count", () => {
    const { response, notes } = read("# Hz Z RI R 1\n10 6 0\n# Hz Z RI R 2\n20 6 0\n");
    expect(Array.from(response.re)).toEqual([6, 6]);
    expect(notes).toEqual(["the option line on line 3 was ignored, since the first one counts"]);
  });
});

describe("a one-port file of version 2.0 is read as an impedance", () => {
  const file = (options: string, data: string, more = ""): string =>
    `! a dome\n[Version] 2.0\n# ${options}\n[Number of Ports] 1\n[Number of Frequencies] ${data.split("\n").length}\n${more}[Network Data]\n${data}\n[End]\n`;

  it("with Z and Y as they are, not normalised", () => {
    expect(only(file("Hz Z RI R 50", "10 6 1")).slice(1)).toEqual([6, 1]);
    expect(
      only(file("Hz Y RI R 50", "10 0 0.25"))
        .slice(1)
        .map((value) => value + 0),
    ).toEqual([0, -4]);
  });

  it("with the reference of its own keyword before that of the option line, on the same line or the next", () => {
    const expected = near(fromS(new Complex(0.5, 0.25), 75));
    for (const more of [
      "[Reference] 75\n",
      "[reference]\n75 ! ohm\n",
      "[Matrix Format] Full\n[Begin Information]\n1 2 3\n[Unknown] x\n[End Information]\n[Reference]   75.0\n",
    ]) {
      expect(only(file("Hz S RI R 50", "10 0.5 0.25", more)).slice(1)).toEqual(expected);
    }
    expect(read(file("Hz S RI R 50", "10 0.5 0.25", "[Reference] 75\n"))).toMatchObject({ version: "2.0", resistance: 75, parameter: "S" });
  });

  it("with as many lines as it says, of two digits too, and a matrix format that a one-port has no use for", () => {
    const lines = Array.from({ length: 12 }, (_, i) => `${10 + i} 6 1`).join("\n");
    expect(read(file("Hz Z RI", lines)).response.frequencies).toHaveLength(12);
    expect(read(file("Hz Z RI", "10 6 1", "[Matrix Format] Full\n")).response.re[0]).toBe(6);
  });

  it("with a note on what stands below [End]", () => {
    expect(read(`${file("Hz Z RI", "10 6 1\n20 6 1")}! fine\nrest\n`).notes).toEqual(["what follows [End] was ignored, from line 11"]);
  });

  const cases: [string, string, string, number, string][] = [
    ["another version", "[Version] 3.0\n# Hz Z RI\n", "invalid-keyword", 1, 'must be 2.0, got "3.0"'],
    ["a version that does not stand first", "# Hz Z RI\n[Version] 2.0\n", "invalid-keyword", 2, "must stand once and first"],
    ["keywords without a version", "[Number of Ports] 1\n# Hz Z RI\n10 6 1\n", "invalid-keyword", 1, "below [Version] 2.0"],
    ["two ports", file("Hz Z RI", "10 6 1").replace("Ports] 1", "Ports] 2"), "not-a-one-port", 4, "must be 1, got 2"],
    ["a number of ports that is none", file("Hz Z RI", "10 6 1").replace("Ports] 1", "Ports] one"), "invalid-keyword", 4, 'got "one"'],
    ...["0", "1.5", "x1", "1x", "-1", ""].flatMap((count): [string, string, string, number, string][] => [
      [
        `${count || "no count"} of frequencies`,
        file("Hz Z RI", "10 6 1").replace("Frequencies] 1", `Frequencies] ${count}`),
        "invalid-keyword",
        5,
        count === "" ? "got nothing" : `got "${count}"`,
      ],
    ]),
    ["noise data", file("Hz Z RI", "10 6 1", "[Number of Noise Frequencies] 2\n"), "invalid-keyword", 6, "one that a one-port uses"],
    ["mixed modes", file("Hz Z RI", "10 6 1", "[Mixed-Mode Order] D1\n"), "invalid-keyword", 6, "one that a one-port uses"],
    [
      "references for two ports",
      file("Hz S RI", "10 0 0", "[Reference] 50 75\n"),
      "invalid-reference",
      6,
      "one resistance for the one port",
    ],
    ["data above [Network Data]", file("Hz Z RI", "10 6 1", "5 6 1\n"), "missing-keyword", 6, "below [Network Data]"],
    [
      "no number of ports",
      file("Hz Z RI", "10 6 1").replace("[Number of Ports] 1\n", ""),
      "missing-keyword",
      7,
      "[Number of Ports], got none",
    ],
    [
      "no number of frequencies",
      file("Hz Z RI", "10 6 1").replace("[Number of Frequencies] 1\n", ""),
      "missing-keyword",
      7,
      "[Number of Frequencies], got none",
    ],
    ["no option line", file("Hz Z RI", "10 6 1").replace("# Hz Z RI\n", ""), "missing-keyword", 7, "the option line, got none"],
    ["a file that is cut off", file("Hz Z RI", "10 6 1").replace("[End]\n", ""), "missing-keyword", 7, "[End], got none"],
    [
      "fewer frequencies than announced",
      file("Hz Z RI", "10 6 1").replace("Frequencies] 1", "Frequencies] 2"),
      "frequency-count",
      8,
      "says, 2, got 1",
    ],
  ];
  it.each(cases)("but not with %s", (_, text, code, line, words) => {
    const error = errorOf(() => read(text));
    expect(error.message).toContain(`readTouchstone: dome.s1p:${line}: `);
    expect(error.message).toContain(words);
    expect(error.code).toBe(code);
  });
});

describe("what is wrong in a one-port file is refused with its line", () => {
  it.each([
    ["an open circuit as S", "# Hz S RI R 50\n10 0 0\n20 1 0\n", "open-circuit", 3, "an open circuit (S is 1) at 20 Hz"],
    ["an open circuit as S in magnitude and angle", "# Hz S MA R 50\n10 1 360\n", "open-circuit", 2, "S is 1"],
    ["an open circuit as Y", "# Hz Y RI R 50\n10 0 0\n", "open-circuit", 2, "an open circuit (Y is 0) at 10 Hz"],
    ["hybrid parameters", "# Hz H RI R 50\n10 0 0\n", "invalid-option-line", 1, "must name S, Y or Z, got H"],
    ["inverse hybrid parameters", "# Hz G RI R 50\n10 0 0\n", "invalid-option-line", 1, "must name S, Y or Z, got G"],
    ["a word that the option line does not know", "# Hz S XY R 50\n10 0 0\n", "invalid-option-line", 1, 'got "XY"'],
    ["an option that is said twice", "# Hz kHz S RI R 50\n10 0 0\n", "invalid-option-line", 1, "each thing once"],
    ["an option line below data", "10 0 0\n# Hz S RI R 50\n", "invalid-option-line", 2, "above the data"],
    ["R without a resistance", "# Hz S RI R\n10 0 0\n", "invalid-reference", 1, "above 0 Ω, got nothing"],
    ["a reference of zero", "# Hz S RI R 0\n10 0 0\n", "invalid-reference", 1, 'got "0"'],
    ["a reference beyond numbers", "# Hz S RI R 1e999\n10 0 0\n", "invalid-reference", 1, 'got "1e999"'],
    ["a reference in words", "# Hz S RI R fifty\n10 0 0\n", "invalid-reference", 1, 'got "fifty"'],
    ["a negative reference", "# Hz S RI R -50\n10 0 0\n", "invalid-reference", 1, 'got "-50"'],
    ["a two-port", "# Hz S RI R 50\n10 0 0 1 0 1 0 0 0\n", "column-count", 2, "got 9 words"],
    ["a number that is missing", "# Hz S RI R 50\n10 0\n", "column-count", 2, "got 2 words"],
    ["text for a number", "# Hz S RI R 50\n10 0 zero\n", "not-a-number", 2, 'got "zero"'],
    ["a decimal comma", "# Hz S RI R 50\n10 0,5 0\n", "not-a-number", 2, 'got "0,5"'],
    ["NaN", "# Hz S RI R 50\n10 NaN 0\n", "not-a-number", 2, 'got "NaN"'],
    ["infinity", "# Hz Z RI R 50\n10 Infinity 0\n", "not-a-number", 2, 'got "Infinity"'],
    ["a number beyond a double", "# Hz Z RI R 50\n10 1e999 0\n", "number-out-of-range", 2, 'got "1e999"'],
    ["a frequency beyond a double in its unit", "# GHz Z RI R 50\n1e300 1 0\n", "number-out-of-range", 2, 'got "1e300"'],
    ["a level beyond a double", "# Hz Z DB R 50\n10 99999 0\n", "number-out-of-range", 2, "99999"],
    ["an impedance beyond a double", "# Hz Z RI R 50\n10 1e308 0\n", "number-out-of-range", 2, "at 10 Hz"],
    ["a negative magnitude", "# Hz S MA R 50\n10 -0.5 0\n", "negative-magnitude", 2, 'got "-0.5"'],
    ["a negative frequency", "# Hz S MA R 50\n-10 0.5 0\n", "negative-frequency", 2, 'got "-10"'],
    ["a frequency given twice", "# Hz S MA R 50\n10 0.5 0\n10 0.5 0\n", "duplicate-frequency", 3, "got 10 Hz after 10 Hz"],
    ["frequencies out of order", "# Hz S MA R 50\n10 0.5 0\n5 0.5 0\n", "unsorted-frequencies", 3, "got 5 Hz after 10 Hz"],
    ["no data", "# Hz S MA R 50\n! nothing\n", "empty-file", 2, "got none in 2 lines"],
    ["NUL characters", "# Hz\0", "wrong-encoding", 1, "NUL"],
  ])("%s", (_, text, code, line, words) => {
    const error = errorOf(() => read(text));
    expect(error.message).toContain(`readTouchstone: dome.s1p:${line}: `);
    expect(error.message).toContain(words);
    expect(error.code).toBe(code);
    expect(error.hint).not.toBe("");
    expect(error.issues[0]).toMatchObject({ file: "dome.s1p", line, code });
  });

  it("an empty file, files that are too large, and arguments that are none", () => {
    expect(errorOf(() => read("")).code).toBe("empty-file");
    expect(errorOf(() => read("1 0 0\n".repeat(2_000_001))).code).toBe("file-too-large");
    expect(errorOf(() => read(undefined as unknown as string)).code).toBe("invalid-argument");
    expect(errorOf(() => readTouchstone("", { name: "x" } as object)).code).toBe("unknown-option");
  });
});

describe("an impedance that is written as a one-port file", () => {
  const impedance = frequencyResponse(
    [20, 1000, 20000.5],
    [6.1, 5.2, 7.75],
    [3.4, -0.5, 19],
    [{ kind: "smoothed", from: 100, note: "1/24 octave, 20 °C" }],
  );
  const bits = ({ frequencies, re, im }: FrequencyResponse): BigUint64Array[] =>
    [frequencies, re, im].map((list) => new BigUint64Array(list.slice().buffer));
  const value = fc.double({ min: -1e6, max: 1e6, noNaN: true });
  const anyImpedance = fc
    .uniqueArray(
      fc.tuple(
        fc.double({ min: 0, max: 1e11, noNaN: true }).map((f) => f + 0),
        value,
        value,
      ),
      { minLength: 1, maxLength: 8, selector: ([f]) => f },
    )
    .map((points) => points.sort((a, b) => a[0] - b[0]))
    .map((points) =>
      frequencyResponse(
        points.map(([f]) => f),
        points.map(([, re]) => re),
        points.map(([, , im]) => im),
      ),
    );

  it("looks as the standard says, in both versions", () => {
    expect(writeTouchstone(impedance, { unit: "kHz", comment: "dome\nas found" })).toBe(
      "! dome\n! as found\n! smoothed, 100 Hz to the highest: 1/24 octave, 20 ?C\n# kHz Z RI R 1\n0.02 6.1 3.4\n1 5.2 -0.5\n20.0005 7.75 19\n",
    );
    expect(writeTouchstone(frequencyResponse([5], [50], [0]), { version: "2.0", parameter: "S", format: "MA" })).toBe(
      "[Version] 2.0\n# Hz S MA R 50\n[Number of Ports] 1\n[Number of Frequencies] 1\n[Reference] 50\n[Network Data]\n5 0 0\n[End]\n",
    );
  });

  it("comes back bit for bit as Z in real and imaginary part, whatever the unit and version", () => {
    fc.assert(
      fc.property(
        anyImpedance,
        fc.constantFrom("Hz", "kHz", "MHz", "GHz" as const),
        fc.constantFrom("1.1", "2.0" as const),
        (response, unit, version) => {
          const before = copied(response);
          expect(bits(readTouchstone(writeTouchstone(response, { unit: unit as "Hz", version: version as "1.1" })).response)).toEqual(
            bits(response),
          );
          expect(copied(response)).toEqual(before);
        },
      ),
    );
  });

  const parameters: TouchstoneParameter[] = ["S", "Y", "Z"];
  it.each(
    parameters.flatMap((parameter) =>
      (["MA", "DB", "RI"] as const).flatMap((format) => (["1.1", "2.0"] as const).map((version) => ({ parameter, format, version }))),
    ),
  )("comes back to rounding: $parameter $format in version $version", (style) => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.double({ min: 0.1, max: 1000, noNaN: true }), fc.double({ min: -1000, max: 1000, noNaN: true })), {
          minLength: 1,
          maxLength: 8,
        }),
        fc.double({ min: 0.5, max: 600, noNaN: true }),
        (values, resistance) => {
          const response = frequencyResponse(
            values.map((_, i) => 10 * (i + 1)),
            values.map(([re]) => re),
            values.map(([, im]) => im),
          );
          const back = readTouchstone(writeTouchstone(response, { ...style, resistance }));
          expect(back).toMatchObject({ parameter: style.parameter, version: style.version, resistance });
          values.forEach(([re, im], i) => {
            const size = Math.hypot(re, im);
            const magnified = style.parameter === "S" ? size / resistance + resistance / size : 1;
            expect(Math.hypot(back.response.re[i]! - re, back.response.im[i]! - im)).toBeLessThan(1e-13 * size * (1 + magnified));
          });
        },
      ),
      { numRuns: cases(50) },
    );
  });

  it("is refused where the parameter does not exist, and for options that are none", () => {
    expect(errorOf(() => writeTouchstone(frequencyResponse([5], [-50], [0]), { parameter: "S" })).code).toBe("division-by-zero");
    expect(errorOf(() => writeTouchstone(frequencyResponse([5], [0], [0]), { parameter: "Y" })).message).toContain(
      "must not be 0 Ω to be written as Y, got that at 5 Hz",
    );
    expect(errorOf(() => writeTouchstone(frequencyResponse([5], [50], [0]), { parameter: "S", format: "DB" })).code).toBe("zero-level");
    expect(errorOf(() => writeTouchstone(frequencyResponse([5], [1e-320], [0]), { parameter: "Y" })).code).toBe("overflow");
    const bad: [object, string][] = [
      [{ parameter: "H" }, "invalid-argument"],
      [{ format: "ri" }, "invalid-argument"],
      [{ unit: "hz" }, "invalid-argument"],
      [{ resistance: 0 }, "invalid-argument"],
      [{ resistance: NaN }, "invalid-argument"],
      [{ version: 2 }, "invalid-argument"],
      [{ comment: 5 }, "invalid-argument"],
      [{ r: 50 }, "unknown-option"],
    ];
    for (const [options, code] of bad) expect(errorOf(() => writeTouchstone(impedance, options as WriteTouchstoneOptions)).code).toBe(code);
    expect(errorOf(() => writeTouchstone([] as unknown as FrequencyResponse)).code).toBe("invalid-response");
  });
});
