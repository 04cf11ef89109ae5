import { DividingNetworkError } from "../errors";
import { show } from "../errors/internal";
import { readStockCsv, stock, type Stock, type StockLine } from "../parts";
import { readJson } from "./json-text";

/** The parts that can be had, from the table or the JSON beside a project. */
export async function readStock(caller: string, path: string, readFile: (relativePath: string) => Promise<string>): Promise<Stock> {
  let text: unknown;
  try {
    text = await readFile(path);
  } catch (error) {
    const { code, message } = (typeof error === "object" && error !== null ? error : {}) as {
      readonly code?: unknown;
      readonly message?: unknown;
    };
    const reason = typeof message === "string" ? message.split(/[\r\n]/)[0]!.slice(0, 150) : show(error);
    const [which, hint] = [
      code === "ENOENT" ? "missing-file" : "unreadable-file",
      "Put it there, or correct the path, which is relative to the project file; capitals count",
    ] as const;
    throw new DividingNetworkError(which, `${caller}: ${path}: the file must be there and readable, got: ${reason} (stock)`, hint, [
      { code: which, message: "the file must be there and readable", hint, file: path },
    ]);
  }
  if (typeof text !== "string")
    throw new DividingNetworkError(
      "unreadable-file",
      `${caller}: ${path}: "readFile" must give the file's text, got ${show(text)} (stock)`,
      "Decode the bytes, as UTF-8 for instance",
    );
  if (!/\.json$/i.test(path)) return readStockCsv(text, { file: path });
  const lines = readJson(text, path);
  if (!Array.isArray(lines))
    throw new DividingNetworkError(
      "invalid-stock",
      `${caller}: ${path}: a stock must be an array of lines, got ${show(lines)}`,
      'Write [{ "kind": "capacitor", "value": "6.8 µF" }, …]',
    );
  return stock(lines as readonly StockLine[]);
}
