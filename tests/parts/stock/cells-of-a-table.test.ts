// Tests src/parts/stock/: csv-line.ts, read-stock-csv.ts, read-stock-line.ts, write-stock-csv.ts
// Cells of a table by the rules of RFC 4180 for quotation marks (a field in them may hold separators, a mark inside is doubled), and of each column what it may hold, to the limit itself.
import { describe, expect, it } from "vitest";
import { DividingNetworkError } from "dividing-network";
import { readStockCsv, stock, writeStockCsv, type StockLine } from "dividing-network/parts";

function refusal(run: () => unknown): DividingNetworkError {
  try {
    run();
  } catch (error) {
    if (error instanceof DividingNetworkError) return error;
    throw error;
  }
  throw new Error("nothing was refused");
}
const names = (text: string) => readStockCsv(text).parts.map(({ name }) => name);
const row = (cell: string, separator = ",") =>
  names(`kind${separator}name${separator}value\nresistor${separator}${cell}${separator}8 Ω\n`)[0];
const issue = (text: string) => refusal(() => readStockCsv(text)).issues[0]!;

describe("a cell of a table", () => {
  it("may stand in quotation marks, hold separators and doubled marks, and have spaces around it", () => {
    expect(row("plain")).toBe("plain");
    expect(row('"a, b"')).toBe("a, b");
    expect(row('"a ""b"" c"')).toBe('a "b" c');
    expect(row('""""')).toBe('"');
    expect(row('  "a"  ')).toBe("a");
    expect(row("  a b  ")).toBe("a b");
    expect(row("\ta\t")).toBe("a");
    expect(row("a;b")).toBe("a;b");
    expect(row('"a;b"', ";")).toBe("a;b");
    expect(row("a,b", ";")).toBe("a,b");
    // Between tabs a tab is no space.
    expect(row(" a ", "\t")).toBe("a");
    expect(readStockCsv("kind\tvalue\tdcr\tname\ninductor\t1 mH\t\t x \n").parts[0]).toMatchObject({ name: "x", lossKnown: false });
    // What is quoted and empty is empty.
    expect(row('""')).toBe("Resistor 8 Ω");
    expect(row("")).toBe("Resistor 8 Ω");
  });

  it("at the end of a line may be empty, and isn't a cell too many", () => {
    expect(names("kind,value,name\nresistor,8 Ω,\n")).toEqual(["Resistor 8 Ω"]);
    expect(names("kind,value,name\nresistor,8 Ω,  \n")).toEqual(["Resistor 8 Ω"]);
    expect(names('kind,value,name\nresistor,8 Ω,"x"')).toEqual(["x"]);
    expect(issue("kind,value,name\nresistor,8 Ω,x,\n")).toMatchObject({ code: "column-count", line: 2 });
    expect(issue("kind,value,name\nresistor,8 Ω\n").message).toContain("as the first line, 3, got 2");
  });

  it("with a stray or an open quotation mark is refused, with what is wrong", () => {
    for (const cell of ['a"b', 'a"', '"a"b', '"a" b', '"a""b"c"'])
      expect(issue(`kind,name,value\nresistor,${cell},8 Ω\n`).message, cell).toContain("must stand at the beginning and the end of a cell");
    for (const cell of ['"a', '"', '"a""'])
      expect(issue(`kind,name,value\nresistor,${cell},8 Ω\n`).message, cell).toMatch(/must be closed|beginning and the end/);
    expect(issue('kind,value,name\nresistor,8 Ω,"a\n').message).toContain("must be closed on the line");
    expect(issue('kind,value,name\nresistor,8 Ω,"a""\n').message).toContain("must be closed on the line");
    expect(refusal(() => readStockCsv('kind,"value\nresistor,8 Ω\n'))).toMatchObject({ code: "invalid-stock" });
    expect(refusal(() => readStockCsv('kind,va"lue\nresistor,8 Ω\n')).message).toContain("beginning and the end");
  });

  it("is quoted when it is written where it has to be, and no other is", () => {
    const line = (name: string): StockLine => ({ kind: "resistor", value: 8, name });
    const written = (name: string, options = {}) => writeStockCsv(stock([line(name)]), options).split("\n")[1]!;
    expect(written("a b")).toBe("a b,resistor,8 Ω,,,,,,,,,");
    expect(written("a,b")).toMatch(/^"a,b",/);
    expect(written("a,b", { separator: ";" })).toMatch(/^a,b;/);
    expect(written("a;b", { decimal: "," })).toMatch(/^"a;b";/);
    expect(written('a "b"')).toMatch(/^"a ""b""",/);
    // A comment's mark at the beginning of a line would make it one.
    for (const name of ["#1", '"', "a,b;c", "'x'", "=1+1"])
      for (const options of [{}, { decimal: "," }, { separator: "\t" }] as const)
        expect(readStockCsv(writeStockCsv(stock([line(name)]), options)).parts[0]!.name).toBe(name);
    expect(writeStockCsv(stock([]))).toBe("name,kind,value,tolerance,dcr,esr,dissipation factor,power,voltage,current,price,count\n");
    expect(
      writeStockCsv(stock([{ kind: "capacitor", value: 6.8e-6, price: 3.25, tolerance: 0.025 }]), { decimal: ",", separator: "\t" }).split(
        "\n",
      )[1],
    ).toBe("Capacitor 6.8 µF, ±2.5 %\tcapacitor\t6,8 µF\t2,5 %\t\t\t\t\t\t\t3,25\t");
    for (const bad of [{ separator: "|" }, { decimal: ";" }, { separator: ",", decimal: "," }, { marks: 1 }])
      expect(refusal(() => writeStockCsv(stock([]), bad as never)).code).toMatch(/invalid-argument|unknown-option/);
  });
});

describe("the columns of a table", () => {
  it("may be written with spaces, dashes or underscores, large or small, quoted, in any order", () => {
    expect(readStockCsv('Dissipation-Factor,"KIND",VALUE\n0.01,capacitor,1 µF\n').parts[0]!.part).toMatchObject({
      dissipationFactor: 0.01,
    });
    expect(readStockCsv("dissipation_factor;kind;value\n0,01;capacitor;1 µF\n").parts[0]!.part).toMatchObject({ dissipationFactor: 0.01 });
    expect(refusal(() => readStockCsv("kind,value,\nresistor,8 Ω,\n")).message).toContain(
      "column 3 of the first line must be named one of",
    );
    expect(refusal(() => readStockCsv("kind,value,\nresistor,8 Ω,\n")).message).toContain("got nothing");
    expect(refusal(() => readStockCsv("kind,value,toString\n")).code).toBe("unknown-column");
    expect(refusal(() => readStockCsv("value,name\n")).message).toContain('a column "kind"');
    expect(refusal(() => readStockCsv("kind,price\n")).message).toContain('a column "value"');
    expect(refusal(() => readStockCsv("kind,value,kind\n")).message).toContain('"kind" 2 times');
    // Columns that are left out may have any content, also marks of both sorts.
    expect(names("kind;#a;value;#a\nresistor;1,2;8 Ω;1.2\n")).toEqual(["Resistor 8 Ω"]);
  });

  it("have one decimal mark in the whole file, told by the line where the other one stands", () => {
    const two = (a: string, b: string) => issue(`kind;value;price\nresistor;8 Ω;${a}\nresistor;8 Ω;${b}\n`);
    expect(two("1,5", "1.5")).toMatchObject({ code: "ambiguous-number-format", line: 3 });
    expect(two("1,5", "1.5").message).toContain("where line 2 has a comma");
    expect(two("1.5", "1,5").message).toContain("where line 2 has a point");
    expect(issue("kind;value;price\nresistor;1.5 Ω;1,5\n").message).toContain("where line 2 has a point");
    for (const cell of ["1.200,5", "1,200,5", "1.200.300,5"])
      expect(issue(`kind;value;price\nresistor;8 Ω;${cell}\n`).message).toContain("thousands");
    // Whole numbers have neither, and counts and names are no decimals.
    expect(
      readStockCsv("kind;value;price;count;name\nresistor;8 Ω;1,5;2;1.5\nresistor;10 Ω;2;3;4.7\n").parts.map(({ price, count, name }) => [
        price,
        count,
        name,
      ]),
    ).toEqual([
      [1.5, 2, "1.5"],
      [2, 3, "4.7"],
    ]);
    expect(readStockCsv("kind;value;price\nresistor;8 Ω;,5\n").parts[0]!.price).toBe(0.5);
    expect(issue('kind,value,price\nresistor,8 Ω,"1,5"\n').message).toContain(
      "must have a decimal point in a file whose columns are separated by commas",
    );
  });

  it("of numbers take numbers without a unit, and what is meant by a bare number of ohms", () => {
    const cell = (column: string, value: string, kind = "resistor", of = "8 Ω") =>
      readStockCsv(`kind,value,${column}\n${kind},${of},${value}\n`).parts[0]!;
    for (const [text, value] of [
      ["3", 3],
      ["+3.", 3],
      [".5", 0.5],
      ["1e2", 100],
      ["1.5E-3", 0.0015],
    ] as const)
      expect(cell("price", text).price).toBe(value);
    for (const text of ["x", "3 EUR", "1e", "1e99999", "0x10", "1_000", "Infinity", "--1", "."])
      expect(issue(`kind,value,price\nresistor,8 Ω,${text}\n`), text).toMatchObject({ code: "not-a-number" });
    expect(issue("kind,value,price\nresistor,8 Ω,3 EUR\n").hint).toContain("currency");
    expect(issue("kind,value,count\nresistor,8 Ω,two\n").hint).toContain("isn't known");
    for (const text of ["-1", "1.5"]) expect(issue(`kind,value,count\nresistor,8 Ω,${text}\n`).message).toContain("count");
    expect(cell("count", "0").count).toBe(0);
    expect([
      cell("power", "10").power,
      cell("power", "10 W").power,
      cell("tolerance", "0.05").tolerance,
      cell("tolerance", "5 %").tolerance,
    ]).toEqual([10, 10, 0.05, 0.05]);
    expect(cell("dcr", "0.3", "inductor", "1 mH").part).toMatchObject({ dcr: 0.3 });
    expect(cell("current", "3", "inductor", "1 mH").current).toBe(3);
    expect(cell("voltage", "63", "capacitor", "1 µF").voltage).toBe(63);
    expect(cell("esr", "0.3", "capacitor", "1 µF").part).toMatchObject({ esr: 0.3 });
    // Henries and farads as bare numbers are most likely meant in mH and µF.
    for (const [kind, value] of [
      ["inductor", "0.47"],
      ["capacitor", "6.8"],
    ] as const)
      expect(issue(`kind,value\n${kind},${value}\n`)).toMatchObject({ code: "invalid-quantity" });
  });

  it("of a part hold only what such a part has", () => {
    const line = (given: object) => refusal(() => stock([given as StockLine])).message;
    for (const [kind, value, fact] of [
      ["resistor", 8, "dcr"],
      ["resistor", 8, "esr"],
      ["resistor", 8, "dissipationFactor"],
      ["inductor", 1e-3, "esr"],
      ["inductor", 1e-3, "dissipationFactor"],
      ["capacitor", 1e-6, "dcr"],
    ] as const)
      expect(line({ kind, value, [fact]: 0.1 })).toContain(fact);
    const limits: readonly (readonly [object, string, readonly unknown[], readonly unknown[]])[] = [
      [{ kind: "resistor", value: 8 }, "power", [1e-9], [0, -1, "8 V"]],
      [{ kind: "capacitor", value: 1e-6 }, "voltage", [1e-9, "63 V"], [0, -1]],
      [{ kind: "inductor", value: 1e-3 }, "current", [1e-9, "3 A"], [0, -1]],
      [{ kind: "inductor", value: 1e-3 }, "dcr", [0, "0.1 Ω"], [-1e-9]],
      [{ kind: "capacitor", value: 1e-6 }, "esr", [0], [-1e-9]],
      [{ kind: "capacitor", value: 1e-6 }, "dissipationFactor", [0, 0.1], [-1e-9, "5 %"]],
      [{ kind: "resistor", value: 8 }, "price", [0], [-1e-9, "3 EUR", NaN]],
      [{ kind: "resistor", value: 8 }, "count", [0, 3], [-1, 0.5, "2"]],
      [{ kind: "resistor", value: 8 }, "tolerance", [0, 0.5, "99 %"], [-1e-9, 1, "100 %"]],
      [{ kind: "resistor", value: 8 }, "name", ["x", "x".repeat(200), " x "], ["", " ", "x".repeat(201), "a\tb", "a\u0007b", 7]],
      [{ kind: "resistor" }, "value", [1e-9, "8 Ω", "4R7"], [0, -1, "8 mH", undefined]],
      [{ value: 8 }, "kind", ["resistor"], ["Resistor", "coil", undefined, 7]],
    ];
    for (const [given, fact, taken, refused] of limits) {
      for (const value of taken) expect(() => stock([{ ...given, [fact]: value } as never]), `${fact}: ${String(value)}`).not.toThrow();
      for (const value of refused) expect(line({ ...given, [fact]: value }), `${fact}: ${String(value)}`).toContain(`lines[0].${fact}`);
    }
    expect(line({ value: 8 })).toContain('"lines[0].kind" must be one of "resistor", "inductor", "capacitor", got nothing');
    for (const [kind, example] of [
      ["resistor", "4.7 Ω"],
      ["inductor", "0.47 mH"],
      ["capacitor", "6.8 µF"],
    ] as const)
      expect(line({ kind })).toMatch(new RegExp(`the part's value with its unit, got nothing. Write it as in "${example}"`));
    expect(stock([{ kind: "resistor", value: 8, name: " x " }]).parts[0]!.name).toBe("x");
    expect(line({ kind: "capacitor", value: 1e-6, esr: 0, dissipationFactor: 0 })).toContain("the same loss");
  });
});

describe("how long a table may be", () => {
  it("twenty thousand lines, as an array of lines and as text; twenty errors are listed, and that there are more is said", () => {
    const many = (count: number) => Array.from({ length: count }, () => ({ kind: "resistor", value: 8 }) as StockLine);
    expect(stock(many(20_000)).parts.length).toBe(20_000);
    expect(refusal(() => stock(many(20_001))).code).toBe("too-many-parts");
    expect(refusal(() => writeStockCsv(many(20_001) as never)).message).toContain('"drawer" must have at most 20000 lines, got 20001');
    for (const nothing of [undefined, null, 7, "drawer", {}, { parts: 7 }])
      expect(refusal(() => writeStockCsv(nothing as never)).message).toContain('"drawer" must be a stock');
    expect(readStockCsv(`kind,value\n${"resistor,8 Ω\n".repeat(20_000)}`).parts.length).toBe(20_000);
    const wrong = (count: number) => refusal(() => readStockCsv(`kind,value\n${"resistor,x\n".repeat(count)}`));
    expect([wrong(19).issues.length, wrong(20).issues.length, wrong(21).issues.length]).toEqual([19, 20, 20]);
    expect(wrong(19).message).not.toContain("at least");
    expect(wrong(20).message).toContain("at least");
    // Comments and empty lines aren't parts, but are counted as lines.
    expect(issue("# a\n\nkind,value\n  # b\n\nresistor,x\n").line).toBe(6);
    expect(refusal(() => readStockCsv("# only\n\n")).code).toBe("empty-file");
    expect(refusal(() => readStockCsv("kind,value\n", { name: "x" } as never)).code).toBe("unknown-option");
  });
});
