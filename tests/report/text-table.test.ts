import fc from "fast-check";
import { textTable } from "../../src/report/internal";
import { describe, expect, it } from "vitest";

const rows = (text: string): string[] => text.split("\n").slice(0, -1);

describe("textTable", () => {
  it("sets numbers at the right and text at the left, under headings with units", () => {
    const text = textTable({
      caption: "Ripple",
      columns: [{ label: "Where" }, { label: "Level", unit: "dB" }, { label: "Mid", align: "center" }],
      rows: [
        ["on axis", 1.5, "x"],
        ["30°", -12, "y"],
      ],
    });
    expect(text).toBe(
      ["Ripple", "", "Where    Level (dB)  Mid", "-------  ----------  ---", "on axis         1.5   x", "30°             -12   y", ""].join(
        "\n",
      ),
    );
  });

  it("counts wide characters as two columns and combining marks as none", () => {
    const text = textTable({
      columns: [{ label: "Name" }, { label: "End" }],
      rows: [
        ["音圧", "x"],
        ["e\u0301a\u0308", "x"],
        ["👩‍🔧", "x"],
        ["ｶﾅ", "x"],
        ["Ω µ ° −", "x"],
        ["ＡＢ", "x"],
      ],
    });
    expect(rows(text)).toEqual([
      "Name     End",
      "-------  ---",
      "音圧     x",
      "e\u0301a\u0308       x",
      "👩‍🔧       x",
      "ｶﾅ       x",
      "Ω µ ° −  x",
      "ＡＢ     x",
    ]);
  });

  it("wraps long sentences within their column, and keeps the short columns whole", () => {
    const sentence = "The sum stays within half a decibel of its mean, which is less than the spread of the measurement itself.";
    const text = textTable({
      width: 60,
      columns: [{ label: "Finding" }, { label: "Change", unit: "dB" }, { label: "Meaning" }],
      rows: [["Ripple", -3.2, sentence]],
    });
    expect(Math.max(...rows(text).map((line) => line.length))).toBeLessThanOrEqual(60);
    expect(rows(text)[2]).toMatch(/^Ripple {10}-3\.2 {2}The sum/);
    const column = rows(text)[1]!.lastIndexOf(" ") + 1;
    expect(
      rows(text)
        .slice(2)
        .map((line) => line.slice(column))
        .join(" "),
    ).toBe(sentence);
    for (const line of rows(text).slice(3)) expect(line.slice(0, column).trim()).toBe("");
  });

  it("is at most 100 columns wide by itself", () => {
    const text = textTable({ columns: [{ label: "Text" }], rows: [["word ".repeat(100)]] });
    expect(Math.max(...rows(text).map((line) => line.length))).toBeLessThanOrEqual(100);
    expect(Math.max(...rows(text).map((line) => line.length))).toBeGreaterThan(90);
  });

  it("breaks a word that no column can hold", () => {
    const text = textTable({ width: 20, columns: [{ label: "A" }, { label: "B" }], rows: [["x".repeat(50), "y".repeat(30)]] });
    expect(Math.max(...rows(text).map((line) => line.length))).toBeLessThanOrEqual(20);
    expect(text.replace(/[^x]/g, "")).toHaveLength(50);
    expect(text.replace(/[^y]/g, "")).toHaveLength(30);
  });

  it("lets no cell steer the terminal", () => {
    const text = textTable({
      columns: [{ label: "A\u001b[2J" }],
      rows: [["\u001b]0;title\u0007"], ["a\tb"], ["one\r\ntwo"], ["\u202Eabc"]],
    });
    expect(text).not.toMatch(/[^\P{Cc}\n]|\u202E/u);
    expect(text).toContain("a b");
    expect(rows(text)).toEqual(expect.arrayContaining(["one", "two"]));
  });

  it("writes infinities as signs and refuses what is not a number", () => {
    expect(textTable({ columns: [{ label: "A" }], rows: [[-Infinity], [Infinity], [-0]] })).toBe(
      "A\n--\n-∞\n ∞\n 0\n".replace("A\n", " A\n"),
    );
    expect(() => textTable({ columns: [{ label: "A" }], rows: [[NaN]] })).toThrow(/"rows\[0\]\[0\]" must be text or a number, got NaN/);
    expect(() => textTable({ columns: [{ label: "A" }], rows: [], width: 5 })).toThrow(/"width" must be a whole number at least 20/);
    expect(() => textTable(undefined as never)).toThrow(/"columns" must be an array/);
  });

  it("sets a table of very many rows", () => {
    expect(rows(textTable({ columns: [{ label: "n" }], rows: Array.from({ length: 200_000 }, (_, i) => [i]) }))).toHaveLength(200_002);
  });

  it("never exceeds its width, loses no word and leaves no trailing space, whatever the cells", () => {
    const cell = fc.oneof(
      fc.array(fc.stringMatching(/^[a-z]{1,9}$/), { maxLength: 30 }).map((words) => words.join(" ")),
      fc.integer(),
    );
    fc.assert(
      fc.property(
        fc
          .integer({ min: 1, max: 5 })
          .chain((n) => fc.tuple(fc.constant(n), fc.array(fc.array(cell, { minLength: n, maxLength: n }), { maxLength: 6 }))),
        fc.integer({ min: 70, max: 140 }),
        ([n, cells], width) => {
          const text = textTable({ width, columns: Array.from({ length: n }, (_, i) => ({ label: `c${i}` })), rows: cells });
          for (const line of rows(text)) {
            expect(line.length).toBeLessThanOrEqual(width);
            expect(line).toBe(line.trimEnd());
          }
          const words = (all: string): string[] =>
            all
              .split(/\s+/)
              .filter((word) => word !== "")
              .sort();
          const given = cells.flat().map(String).join(" ");
          expect(words(rows(text).slice(2).join(" "))).toEqual(words(given));
        },
      ),
    );
  });
});
