// Tests src/parts/stock/: csv-line.ts, read-stock-csv.ts, read-stock-line.ts, stock-part.ts, write-stock-csv.ts
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { DividingNetworkError } from "dividing-network";
import { capacitor, inductor, readStockCsv, resistor, stock, stockToJSON, writeStockCsv, type StockLine } from "dividing-network/parts";
import { cases } from "../../support/cases";

const LINES: readonly StockLine[] = [
  {
    kind: "capacitor",
    value: "6.8 µF",
    dissipationFactor: 0.002,
    tolerance: "5 %",
    voltage: "250 V",
    price: 3.2,
    count: 4,
    name: 'film, "box 2"',
  },
  { kind: "capacitor", value: "47 µF", esr: "0.3 Ω", tolerance: 0.2 },
  { kind: "inductor", value: "0.47 mH", dcr: "0.24 Ω", count: 2, current: "3 A" },
  { kind: "inductor", value: "1 mH" },
  { kind: "resistor", value: "4R7", power: "10 W", count: 0 },
];

/** What is thrown. */
function refusal(run: () => unknown): DividingNetworkError {
  try {
    run();
  } catch (error) {
    if (error instanceof DividingNetworkError) return error;
    throw error;
  }
  throw new Error("nothing was refused");
}

describe("stock", () => {
  it("knows what its lines say, in SI, and leaves unknown what they don't", () => {
    const { parts } = stock(LINES);
    expect(parts[0]).toEqual({
      name: 'film, "box 2"',
      part: capacitor(6.8e-6, { dissipationFactor: 0.002, voltage: 250, tolerance: 0.05 }),
      lossKnown: true,
      tolerance: 0.05,
      voltage: 250,
      price: 3.2,
      count: 4,
    });
    expect(parts[3]).toEqual({ name: "Coil 1 mH", part: inductor(1e-3), lossKnown: false });
    expect(parts[4]).toEqual({
      name: "Resistor 4.7 Ω, rated 10 W",
      part: resistor(4.7, { power: 10 }),
      lossKnown: true,
      power: 10,
      count: 0,
    });
  });

  it("takes parts and lines that were read, so that two stocks make one", () => {
    const drawer = stock(LINES);
    expect(stock([...drawer.parts, ...drawer.parts]).parts).toEqual([...drawer.parts, ...drawer.parts]);
    expect(
      stock([inductor("1 mH", { dcr: 0.3 }), capacitor("1 µF", { esr: 0.1 }), capacitor("1 µF"), resistor(8)]).parts.map(
        ({ part, lossKnown }) => [part, lossKnown],
      ),
    ).toEqual([
      [inductor(1e-3, { dcr: 0.3 }), true],
      [capacitor(1e-6, { esr: 0.1 }), true],
      [capacitor(1e-6), false],
      [resistor(8), true],
    ]);
  });

  it("refuses lines that say nothing or too much, naming them", () => {
    const said = (line: unknown) => refusal(() => stock([LINES[0]!, line as StockLine])).message;
    expect(said({ kind: "coil", value: 1 })).toContain("lines[1].kind");
    expect(said({ kind: "inductor" })).toContain("lines[1].value");
    expect(said({ kind: "inductor", value: "6.8 µF" })).toMatch(/lines\[1\].value.*0\.47 mH/);
    expect(said({ kind: "resistor", value: 0 })).toContain("above 0 Ω");
    expect(said({ kind: "resistor", value: 1, dcr: 1 })).toContain("dcr");
    expect(said({ kind: "capacitor", value: 1e-6, esr: 0.1, dissipationFactor: 0.01 })).toContain("same loss");
    expect(said({ kind: "resistor", value: 1, tolerance: 5 })).toContain('Write "5 %"');
    expect(said({ kind: "resistor", value: 1, tolerance: "5" })).toContain('Write "5 %"');
    expect(said({ kind: "resistor", value: 1, count: 1.5 })).toContain("count");
    expect(said({ kind: "resistor", value: 1, price: -1 })).toContain("price");
    expect(said({ kind: "resistor", value: 1, name: "a\nb" })).toContain("name");
    expect(said(undefined)).toContain("lines[1]");
    expect(said({ part: 7 })).toContain("lines[1]");
    expect(refusal(() => stock("drawer.csv" as never)).code).toBe("invalid-argument");
    expect(refusal(() => stock(new Array<StockLine>(20_001).fill(LINES[4]!))).code).toBe("too-many-parts");
  });
});

describe("a stock as a table", () => {
  const read = (text: string) => readStockCsv(text, { file: "drawer.csv" });

  it("is read with decimal commas between semicolons, in any order of columns, past comments and columns that are left out", () => {
    const { parts } = read(
      "\uFEFF# my drawer\r\nCount;#remark;Value;Kind;Tolerance;Dissipation Factor;Price\r\n\r\n4;from a friend;6,8 µF;capacitor;± 5 %;0,002;3,20\r\n;;4R7;resistor;0,1;;\r\n",
    );
    expect(parts).toEqual([
      {
        name: "Capacitor 6.8 µF, tan δ 0.002, ±5 %",
        part: capacitor(6.8e-6, { dissipationFactor: 0.002, tolerance: 0.05 }),
        lossKnown: true,
        tolerance: 0.05,
        price: 3.2,
        count: 4,
      },
      { name: "Resistor 4.7 Ω, ±10 %", part: resistor(4.7, { tolerance: 0.1 }), lossKnown: true, tolerance: 0.1 },
    ]);
  });

  it("takes a bare number for ohms of a resistor, and for a name what looks like one", () => {
    const { parts } = read("kind,value,name,power\nresistor,4.7,12,10\n");
    expect(parts).toEqual([{ name: "12", part: resistor(4.7, { power: 10 }), lossKnown: true, power: 10 }]);
    // What is missing is said by what parts the columns.
    expect(refusal(() => read("kind,value,name\nresistor,4.7\n")).issues[0]!.hint).toContain("separate columns by semicolons");
    expect(refusal(() => read("kind;value;name\nresistor;4.7\n")).issues[0]!.hint).toContain("Leave cells empty");
  });

  it("lists every line that can't be read, with its number", () => {
    const error = refusal(() =>
      read(
        "kind,value,tolerance,price,count\ncapacitor,6.8,5 %,1,1\ncoil,1 mH,,,\nresistor,8 Ω,,,\nresistor,8 Ω,5,1 EUR\nresistor,8 Ω,5,,\nresistor,8 Ω,,3 EUR,\nresistor,8 Ω,,,two\n",
      ),
    );
    expect(error.code).toBe("invalid-stock");
    expect(error.issues.map(({ line, code, file }) => [line, code, file])).toEqual([
      [2, "invalid-quantity", "drawer.csv"],
      [3, "invalid-argument", "drawer.csv"],
      [5, "column-count", "drawer.csv"],
      [6, "invalid-argument", "drawer.csv"],
      [7, "not-a-number", "drawer.csv"],
      [8, "not-a-number", "drawer.csv"],
    ]);
    expect(error.message).toContain('drawer.csv:2: "value" must be a capacitance with its unit');
    expect(refusal(() => readStockCsv("kind,value\nresistor,x\n")).message).toContain('line 2: "value"');
  });

  it("refuses decimal commas between commas, two decimal marks in one file, and thousands separators", () => {
    expect(refusal(() => read("kind,value\ncapacitor,6,8 µF\n")).issues[0]!.hint).toContain("semicolons");
    expect(refusal(() => read('kind,value\ncapacitor,"6,8 µF"\n')).issues[0]!.code).toBe("ambiguous-number-format");
    expect(refusal(() => read("kind;value\ncapacitor;6,8 µF\ncapacitor;4.7 µF\n")).issues[0]!.message).toContain(
      "where line 2 has a comma",
    );
    expect(refusal(() => read("kind;value\nresistor;1.200,5 Ω\n")).issues[0]!.message).toContain("thousands");
  });

  it("refuses a table without a header, with a column that isn't known, or with one twice", () => {
    expect(refusal(() => read("")).code).toBe("empty-file");
    expect(refusal(() => read("capacitor,6.8 µF\n")).code).toBe("unknown-column");
    expect(refusal(() => read("name,value\n")).code).toBe("missing-column");
    expect(refusal(() => read("kind,value,value\n")).code).toBe("duplicate-column");
    expect(refusal(() => read("kind,value,supplier\n")).message).toContain("drawer.csv:1");
    expect(refusal(() => read('kind,value,name\nresistor,1 Ω,"box\n')).issues[0]!.message).toContain("closed");
    expect(refusal(() => read('kind,value,name\nresistor,1 Ω,a"b\n')).issues[0]!.message).toContain("beginning");
    expect(read("kind,value\n").parts).toEqual([]);
  });

  it("ends its list of errors, and a table that is too long", () => {
    expect(refusal(() => read(`kind,value\n${"resistor,x\n".repeat(500)}`)).issues.length).toBe(20);
    expect(refusal(() => read(`kind,value\n${"resistor,1 Ω\n".repeat(20_001)}`)).code).toBe("too-many-parts");
  });
});

describe("a stock written and read back", () => {
  const positive = fc.double({ min: -14, max: 9, noNaN: true }).map((lg) => 10 ** lg);
  const maybe = <T>(arbitrary: fc.Arbitrary<T>) => fc.option(arbitrary, { nil: undefined });
  const facts = {
    name: maybe(fc.string({ minLength: 1, maxLength: 30, unit: "grapheme" }).filter((text) => text.trim() !== "" && !/\p{Cc}/u.test(text))),
    tolerance: maybe(fc.double({ min: 0, max: 0.999, noNaN: true })),
    power: maybe(positive),
    voltage: maybe(positive),
    current: maybe(positive),
    price: maybe(fc.double({ min: 0, max: 1e6, noNaN: true })),
    count: maybe(fc.nat(1000)),
  };
  const line: fc.Arbitrary<StockLine> = fc.oneof(
    fc.record({ kind: fc.constant("resistor" as const), value: positive, ...facts }),
    fc.record({ kind: fc.constant("inductor" as const), value: positive, dcr: maybe(fc.oneof(positive, fc.constant(0))), ...facts }),
    fc.record({ kind: fc.constant("capacitor" as const), value: positive, esr: maybe(fc.oneof(positive, fc.constant(0))), ...facts }),
    fc.record({
      kind: fc.constant("capacitor" as const),
      value: positive,
      dissipationFactor: maybe(fc.oneof(positive, fc.constant(0))),
      ...facts,
    }),
  );
  const layouts = [{}, { separator: "\t" }, { decimal: "," }, { decimal: ",", separator: "\t" }] as const;

  it("is the same to the last bit, as JSON and as a table of any layout", () => {
    fc.assert(
      fc.property(fc.array(line, { maxLength: 8 }), fc.constantFrom(...layouts), (lines, layout) => {
        const drawer = stock(lines);
        const text = JSON.stringify(stockToJSON(drawer));
        expect(stock(JSON.parse(text) as StockLine[])).toEqual(drawer);
        expect(readStockCsv(writeStockCsv(drawer, layout))).toEqual(drawer);
      }),
      { numRuns: cases(200) },
    );
  });

  it("is read or refused with a typed error, whatever stands in it", () => {
    const pieces = fc.constantFrom(
      "kind",
      "value",
      "name",
      "price",
      "count",
      "tolerance",
      "dcr",
      "resistor",
      "capacitor",
      "inductor",
      "4.7 Ω",
      "6,8 µF",
      "0.47 mH",
      "5 %",
      "1e999",
      "-1",
      "__proto__",
      "constructor",
      '"',
      ",",
      ",",
      ";",
      "\t",
      "\n",
      "\r",
      "#",
      "\0",
      " ",
      "é",
      "\u2028",
    );
    fc.assert(
      fc.property(fc.array(pieces, { maxLength: 40 }), fc.boolean(), (words, headed) => {
        try {
          for (const part of readStockCsv(`${headed ? "kind,value,name,price\n" : ""}${words.join("")}`).parts)
            expect(Object.values(part).every((value) => !Number.isNaN(value))).toBe(true);
        } catch (error) {
          expect(error).toBeInstanceOf(DividingNetworkError);
        }
      }),
      { numRuns: cases(500) },
    );
  });

  it("refuses a comma for both marks, and what is no stock", () => {
    expect(refusal(() => writeStockCsv(stock([]), { decimal: ",", separator: "," })).message).toContain("separator");
    expect(refusal(() => stockToJSON(7 as never)).code).toBe("invalid-argument");
  });
});
