// Tests src/response/: number-format.ts, read-table.ts, text-columns.ts
import { levelDb, phaseDegrees, readResponseText, type ResponseText, type TextColumns } from "dividing-network/response";
import { describe, expect, it } from "vitest";
import { errorOf } from "./closed-forms";

const read = (text: string, columns: TextColumns = "re-im"): ResponseText => readResponseText(text, { columns, file: "dome.txt" });
const numbers = ({ response }: ResponseText): number[][] =>
  [response.frequencies, response.re, response.im].map((list) => Array.from(list));

/** What every way of writing the two points below must come to. */
const expected = [
  [20.5, 2000],
  [1.25, -3],
  [-0.5, 4e-7],
];

describe("a text of numbers is read", () => {
  it.each([
    ["with spaces", "20.5 1.25 -0.5\n2000 -3 4e-7\n"],
    ["with runs of spaces and tabs, and space around", "  20.5   1.25\t-0.5  \n\t2000\t\t-3 4E-7\t\n"],
    ["with tabs", "20.5\t1.25\t-0.5\n2000\t-3\t4e-7"],
    ["with commas", "20.5,1.25,-0.5\n2000,-3,4e-7\n"],
    ["with commas and spaces", "20.5, 1.25, -0.5\n2000, -3, 4e-7\n"],
    ["with commas, spaces only where numbers are short", "20.50,  1.25,  -0.50\n2000.00,-3.0000000, 4e-7\n"],
    ["with semicolons", "20.5;1.25;-0.5\n2000; -3 ;4e-7\n"],
    ["with semicolons and decimal commas", "20,5;1,25;-0,5\n2000;-3;4e-7\n"],
    ["with spaces and decimal commas", "20,5 1,25 -0,5\n2000 -3 4e-7\n"],
    ["with tabs and decimal commas", "20,5\t1,25\t-0,5\n2000\t-3\t4e-7\n"],
    ["with a separator at the end of each line", "20.5;1.25;-0.5;\n2000;-3;4e-7;\n"],
    ["with CR LF", "20.5 1.25 -0.5\r\n2000 -3 4e-7\r\n"],
    ["with CR alone", "20.5 1.25 -0.5\r2000 -3 4e-7\r"],
    ["with a byte-order mark", "\ufeff20.5 1.25 -0.5\n2000 -3 4e-7\n"],
    ["with blank lines", "\n\n20.5 1.25 -0.5\n   \n2000 -3 4e-7\n\n\n"],
    ["with numbers in full dress", "+2.05E+01 .125e1 -5.e-1\n2e3 -3. 4.0e-07\n"],
    ["with typographic minus signs", "20.5 1.25 \u22120.5\n2000 \u22123 4e\u22127\n"],
    ["with comments of every kind", '* a\n# 1 2 3\n; c\n// d\n% e\n! f\n"g","h"\n20.5 1.25 -0.5\n* between\n2000 -3 4e-7\n# after\n'],
    ["with a heading of words", "Frequency Real Imaginary\n20.5 1.25 -0.5\n2000 -3 4e-7\n"],
    ["with a heading of words and numbers", "Points: 2\nChannel 1\n20.5 1.25 -0.5\n2000 -3 4e-7\n"],
  ])("%s", (_, text) => {
    expect(numbers(read(text))).toEqual(expected);
  });

  it("with level and phase, which come back", () => {
    const { response, notes } = read("# Hz dB degrees\n100 85.2 -30.5\n200 86.1 179.9\n400 0 -540\n", "db-degrees");
    levelDb(response).forEach((level, i) => expect(level).toBeCloseTo([85.2, 86.1, 0][i]!, 12));
    phaseDegrees(response).forEach((phase, i) => expect(phase).toBeCloseTo([-30.5, 179.9, 180][i]!, 12));
    expect(notes).toEqual([]);
    expect(response.marks).toBeUndefined();
  });

  it("with levels relative to a reference", () => {
    const { response } = readResponseText("100 94 0\n200 80 90\n", { columns: "db-degrees", reference: 20e-6 });
    expect(response.re[0]).toBeCloseTo(1.0023744672545445, 12);
    expect(response.im[1]).toBeCloseTo(0.2, 12);
  });

  it("with ohms and degrees", () => {
    const { response } = read("100 8 90\n200 6 0\n", "ohm-degrees");
    expect(numbers({ response, notes: [] })).toEqual([
      [100, 200],
      [0, 6],
      [8, 0],
    ]);
  });

  it("with levels alone: the phase stands at zero and a mark says so", () => {
    const { response } = read("100 20\n200 -20\n", "db");
    expect(Array.from(response.re)).toEqual([10, 0.1]);
    expect(Array.from(response.im)).toEqual([0, 0]);
    expect(response.marks).toEqual([{ kind: "model", note: "No phase was measured: it stands at zero" }]);
  });

  it("as whole numbers between commas when they fill the columns asked for", () => {
    expect(numbers(read("100,8,90\n200,6,0\n"))).toEqual([
      [100, 200],
      [8, 6],
      [90, 0],
    ]);
    expect(numbers(read("100, 8, 90, 1\n200, 6, 0, 1\n"))).toEqual([
      [100, 200],
      [8, 6],
      [90, 0],
    ]);
    expect(numbers(read("f,a,b,c\n100,8,90,1\n200,6,0,1\n"))).toEqual([
      [100, 200],
      [8, 6],
      [90, 0],
    ]);
  });

  it("with a comma inside numbers that spaces separate as the decimal mark, even with three digits after it", () => {
    expect(numbers(read("1,234 5,678 0\n2,345 6,789 1\n"))).toEqual([
      [1.234, 2.345],
      [5.678, 6.789],
      [0, 1],
    ]);
  });
});

describe("notes tell", () => {
  it("of a decimal comma, a heading and columns that were ignored, by name where they have one", () => {
    expect(read("Freq;Re;Im;Coherence;Time\n20,5;1;2;0,9;0\n30;1;2;1;0\n").notes).toEqual([
      'line 1 was taken as a header: "Freq;Re;Im;Coherence;Time"',
      "the comma was read as the decimal mark",
      'column 4 ("Coherence") was ignored',
      'column 5 ("Time") was ignored',
    ]);
    expect(read("* f re im coherence\n20.5 1 2 yes\n30 1 2 no\n").notes).toEqual(['column 4 ("coherence") was ignored']);
    expect(read("20.5 1 2 0.9\n30 1 2 1\n").notes).toEqual(["column 4 was ignored"]);
    expect(Object.isFrozen(read("20.5 1 2\n30 1 2\n").notes)).toBe(true);
  });

  it("of phases that look like radians", () => {
    expect(read("100 1 3.1\n200 1 -3.0\n", "ohm-degrees").notes).toEqual([
      "no phase is beyond 3.1416: if the file holds radians, convert them to degrees first",
    ]);
    expect(read("100 1 3.1\n200 1 -30\n", "ohm-degrees").notes).toEqual([]);
  });
});

describe("what is wrong in a text is refused with its line", () => {
  const cases: [kind: string, text: string, code: string, line: number | undefined, words: string, columns?: TextColumns][] = [
    ["an empty text", "", "empty-file", undefined, "got none in 0 lines"],
    ["a text of blank lines", "\n \n", "empty-file", 2, "got none in 2 lines"],
    ["a text of comments", "# a\n# b\n", "empty-file", 2, "got none in 2 lines"],
    ["one point", "# f\n100 1 2\n", "too-few-points", 2, "at least 2 points, got 1"],
    [
      "too few columns",
      "100 1\n200 1\n",
      "too-few-columns",
      1,
      "must have 3 columns (frequency (Hz), level (dB), phase (degrees)), got 2",
      "db-degrees",
    ],
    ["a column that is not on every line", "100 1 2 3\n200 1 2\n", "column-count", 2, "as the first line of numbers, 4, got 3"],
    [
      "a value that is missing between separators",
      "100;1;2\n200;;2\n",
      "not-a-number",
      2,
      "column 2, real part, must be a finite number, got nothing",
    ],
    ["text in a column of numbers", "100 1 2\n200 abc 2\n", "not-a-number", 2, 'got "abc"'],
    [
      "text in a column that has a name",
      "f re im\n100 1 2\n200 1 2x\n",
      "not-a-number",
      3,
      'column 3 ("im"), imaginary part, must be a finite number, got "2x"',
    ],
    ["units behind numbers", "100Hz 1 2\n200Hz 1 2\n", "not-a-number", 1, 'got "100Hz"'],
    ["hexadecimal numbers", "0x64 1 2\n200 1 2\n", "not-a-number", 1, 'got "0x64"'],
    ["NaN", "100 1 2\n200 NaN 2\n", "not-a-number", 2, 'got "NaN"'],
    ["NaN for a frequency, above all numbers", "nan 1 2\n200 1 2\n", "not-a-number", 1, 'got "nan"'],
    ["infinity", "100 1 2\n200 -Infinity 2\n", "not-a-number", 2, 'got "-Infinity"'],
    ["infinity written short", "inf 1 2\n200 1 2\n", "not-a-number", 1, 'got "inf"'],
    ["a number beyond a double", "100 1 2\n200 1e999 2\n", "number-out-of-range", 2, 'got "1e999"'],
    ["a level beyond a double", "100 1 2\n200 99999 2\n", "number-out-of-range", 2, "got 99999 dB", "db-degrees"],
    ["a level below a double", "100 1\n200 -99999\n", "number-out-of-range", 2, "got -99999 dB", "db"],
    ["words below the first numbers", "100 1 2\nend of file\n200 1 2\n", "not-a-number", 2, 'got "end"'],
    ["a first line of numbers that begins with a word", "1oo 1 2\n200 1 2\n", "not-a-number", 1, 'got "1oo"'],
    ["a first line of numbers that begins with letters", "f100 1 2\n200 1 2\n", "not-a-number", 1, "must begin with a frequency"],
    ["a date among the words above", "2026-11-25 12:00\n100 1 2\n200 1 2\n", "too-few-columns", 1, "got 2"],
    ["quoted numbers", '"100" "1" "2"\n', "not-a-number", 1, "without quotation marks"],
    ["0 Hz", "0 1 2\n100 1 2\n", "frequency-not-positive", 1, 'above 0 Hz, got "0"'],
    ["a negative frequency", "100 1 2\n-200 1 2\n", "frequency-not-positive", 2, 'got "-200"'],
    ["a frequency given twice", "100 1 2\n100 1 3\n200 1 2\n", "duplicate-frequency", 2, "got 100 Hz here and on line 1"],
    ["descending frequencies", "* f\n300 1 2\n200 1 2\n100 1 2\n", "unsorted-frequencies", 3, "in descending order to the end"],
    ["frequencies out of order", "100 1 2\n300 1 2\n200 1 2\n400 1 2\n", "unsorted-frequencies", 3, "got 200 Hz after 300 Hz"],
    ["two sweeps in one file", "100 1 2\n200 1 2\n100 1 2\n200 1 2\n", "unsorted-frequencies", 3, "got 100 Hz after 200 Hz"],
    ["a negative magnitude of an impedance", "100 8 2\n200 -6 2\n", "negative-magnitude", 2, "at least 0 Ω, got -6", "ohm-degrees"],
    ["a line that is too long", `100 1 2\n${"#".repeat(10_001)}\n200 1 2\n`, "line-too-long", 2, "at most 10000 characters, got 10001"],
    ["NUL characters, as in UTF-16 decoded wrongly", "1\x000\x000\x00 \x001\x00 \x002\x00\n\x00", "wrong-encoding", 1, "NUL"],
    [
      "points and commas between semicolons",
      "100;1.5;2,5\n200;1;2\n",
      "ambiguous-number-format",
      1,
      "both commas and points between semicolons",
    ],
    ["commas, points and spaces", "100.5 1,5 2\n200 1 2\n", "ambiguous-number-format", 1, "commas, points and spaces"],
    [
      "thousands separators before a point",
      "1,000.5, 85.2,-30.1\n2,000.5, 85.2,-30.1\n",
      "ambiguous-number-format",
      1,
      "with and without a space",
    ],
    ["thousands separators from some line on", "999.5,85.2,30.1\n1,000.5,85.2,30.1\n", "column-count", 2, "got 4"],
    ["thousands separators in front of a decimal comma", "1.000,5;85,2;30,1\n", "ambiguous-number-format", 1, "both commas and points"],
    ["thousands separators between spaces", "1,234,567 85 30\n2,345,678 85 30\n", "not-a-number", 1, 'got "1,234,567"'],
    [
      "commas as separators and as decimal marks",
      "100,5,85,2,30,1\n200,5,85,2,30,1\n",
      "ambiguous-number-format",
      1,
      "6 on a line where 3 columns are needed",
    ],
    [
      "whole numbers between commas, more than are needed",
      "100,85,30\n200,86,31\n",
      "ambiguous-number-format",
      1,
      "3 on a line where 2 columns are needed",
      "db",
    ],
    ["commas with and without spaces", "100,5, 85,2, 30\n200, 85, 30\n", "ambiguous-number-format", 1, "with and without a space"],
    [
      "commas and spaces as separators at once",
      "100, 85 30\n200, 85 30\n",
      "ambiguous-number-format",
      1,
      "beside numbers separated by space alone",
    ],
  ];

  it.each(cases)("%s", (_, text, code, line, words, columns = "re-im") => {
    const error = errorOf(() => read(text, columns));
    expect(error.code).toBe(code);
    expect(error.message).toContain(words);
    expect(error.message).toContain(line === undefined ? "readResponseText: dome.txt: " : `readResponseText: dome.txt:${line}: `);
    expect(error.issues).toEqual([
      { code, message: expect.any(String), hint: error.hint, file: "dome.txt", ...(line === undefined ? {} : { line }) },
    ]);
    expect(error.hint).not.toBe("");
    expect(error.message.length).toBeLessThan(600);
  });

  it("counting lines the same way whatever ends them", () => {
    for (const end of ["\n", "\r\n", "\r"])
      expect(errorOf(() => read(["# f", "100 1 2", "", "200 x 2", ""].join(end))).issues[0]!.line).toBe(4);
  });

  it("and without the file's name when it has none", () => {
    expect(errorOf(() => readResponseText("100 1 2\n200 x 2\n", { columns: "re-im" })).message).toMatch(
      /^readResponseText: line 2: column 2, real part/,
    );
  });

  it("files of more than 2 000 000 lines or 64 Mi characters before a number of them is read", () => {
    expect(errorOf(() => read("100 1 x\n".repeat(5_000_000))).code).toBe("file-too-large");
    expect(errorOf(() => read("\r".repeat(2_000_001))).message).toContain("at most 2000000 lines");
    expect(errorOf(() => read("x".repeat(64 * 1024 * 1024 + 1))).message).toContain("at most 67108864 characters");
  });
});

describe("arguments", () => {
  it("that are none are refused", () => {
    for (const text of [undefined, null, 3, new Uint8Array(3), ["100 1 2"]])
      expect(errorOf(() => read(text as unknown as string)).code).toBe("invalid-argument");
    expect(errorOf(() => readResponseText("1 2 3\n", undefined as never)).code).toBe("invalid-argument");
    expect(errorOf(() => read("1 2 3\n", "dB" as TextColumns)).code).toBe("invalid-argument");
    expect(errorOf(() => readResponseText("1 2 3\n", { columns: "re-im", separator: ";" } as never)).code).toBe("unknown-option");
    expect(errorOf(() => readResponseText("1 2 3\n", { columns: "re-im", file: 3 } as never)).code).toBe("invalid-argument");
    expect(errorOf(() => readResponseText("1 2 3\n", { columns: "re-im", reference: 2 })).code).toBe("invalid-argument");
    expect(errorOf(() => readResponseText("1 2 3\n", { columns: "db", reference: 0 })).code).toBe("invalid-argument");
  });
});
